// Brings what the extension shares with the rest of the tree to where it is packed: the colors, which are made from
// the plan language's grammar, and the license.
"use strict";
const { copyFileSync, mkdirSync } = require("node:fs");
const { join } = require("node:path");

const top = join(__dirname, "..", "..");
mkdirSync(join(__dirname, "colors"), { recursive: true });
copyFileSync(
  join(top, "grammar", "trackplan", "colors", "trackplan.tmLanguage.json"),
  join(__dirname, "colors", "trackplan.tmLanguage.json"),
);
copyFileSync(join(top, "lint", "railbond", "LICENSE"), join(__dirname, "LICENSE"));
