// Wiring plans in VS Code and its relatives: starts `railbond serve`, says how the plan stands, and shows the railroad.
"use strict";
const vscode = require("vscode");
const { Server } = require("./server");
const { Verdict } = require("./verdict");
const { Railroad } = require("./railroad");
const { openLesson, provideLessons } = require("./lessons");

async function activate(context) {
  const verdict = new Verdict();
  const server = new Server(context, verdict);
  const railroad = new Railroad(context, server);
  const command = (name, run) => vscode.commands.registerCommand(`railbond.${name}`, run);
  context.subscriptions.push(
    verdict,
    server,
    railroad,
    provideLessons(server),
    command("showRailroad", () => railroad.show()),
    command("throwSetting", () => railroad.throwTurnout()),
    command("mendAll", () => vscode.commands.executeCommand("editor.action.fixAll")),
    command("tidy", () => vscode.commands.executeCommand("editor.action.formatDocument")),
    command("openLesson", (name) => openLesson(server, name)),
    command("restart", () => server.restart()),
    command("howToInstall", () => server.tellHowToInstall()),
  );
  await server.start();
  return { server };
}

module.exports = { activate };
