// How the plan in front of you stands, in the status bar. Never by color alone: a sign and words.
"use strict";
const vscode = require("vscode");

const { Error: ERROR, Warning: WARNING } = vscode.DiagnosticSeverity;

function counted(number, word) {
  return `${number} ${word}${number === 1 ? "" : "s"}`;
}

class Verdict {
  constructor() {
    this.known = new Set();
    this.trouble = "starting";
    this.item = vscode.window.createStatusBarItem("railbond.verdict", vscode.StatusBarAlignment.Left, 10);
    this.item.name = "railbond";
    this.watching = vscode.window.onDidChangeActiveTextEditor(() => this.show());
    this.show();
  }

  up() {
    this.trouble = "";
    this.show();
  }

  down(trouble) {
    this.trouble = trouble;
    this.known.clear();
    this.show();
  }

  told(uri, diagnostics) {
    void diagnostics;
    this.known.add(uri.toString());
    this.show();
  }

  show() {
    const document = vscode.window.activeTextEditor?.document;
    if (document?.languageId !== "trackplan") {
      this.item.hide();
      return;
    }
    Object.assign(this.item, this.trouble ? this.dead() : this.standing(document.uri));
    this.item.show();
  }

  dead() {
    const text = `$(debug-disconnect) railbond: ${this.trouble}`;
    return { text, tooltip: "Nothing is proven of this plan now.", command: "railbond.restart" };
  }

  standing(uri) {
    if (!this.known.has(uri.toString())) return { text: "$(sync) railbond: proving", tooltip: "", command: undefined };
    const found = vscode.languages.getDiagnostics(uri).filter((one) => one.source === "railbond");
    const errors = found.filter((one) => one.severity === ERROR).length;
    const warnings = found.filter((one) => one.severity === WARNING).length;
    const notes = found.length - errors - warnings;
    const words = [
      ...(errors ? [counted(errors, "error")] : []),
      ...(warnings ? [counted(warnings, "warning")] : []),
      ...(notes ? [counted(notes, "note")] : []),
    ];
    const sign = errors ? "$(error)" : warnings ? "$(warning)" : "$(pass)";
    const text = `${sign} railbond: ${words.join(", ") || "no faults found"}`;
    return { text, tooltip: "Of this file, in every setting of the turnouts. Click for the list.", command: "workbench.actions.view.problems" };
  }

  dispose() {
    this.watching.dispose();
    this.item.dispose();
  }
}

module.exports = { Verdict };
