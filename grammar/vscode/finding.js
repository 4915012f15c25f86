// Which program to start: the one that is set, that of the folder's .venv, or the one on the PATH.
"use strict";
const { accessSync, constants, statSync } = require("node:fs");
const { delimiter, isAbsolute, join } = require("node:path");

const NAMES = process.platform === "win32" ? ["railbond.exe", "railbond.cmd"] : ["railbond"];

function runs(path) {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/** The program's path, or undefined; `set` is the setting (a path, or a name on the PATH), `folders` the open ones. */
function findServer(set, folders, path = process.env.PATH ?? "") {
  const onPath = (names) => path.split(delimiter).flatMap((folder) => names.map((name) => join(folder, name))).find(runs);
  if (set) {
    const places = isAbsolute(set) ? [set] : folders.map((folder) => join(folder, set));
    return places.find(runs) ?? (set.includes("/") || set.includes("\\") ? undefined : onPath([set]));
  }
  const bin = process.platform === "win32" ? "Scripts" : "bin";
  const own = folders.flatMap((folder) => NAMES.map((name) => join(folder, ".venv", bin, name)));
  return own.find(runs) ?? onPath(NAMES);
}

module.exports = { findServer };
