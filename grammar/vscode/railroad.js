// The railroad beside the text: the page of the drawing, fed by the server while the text is typed.
"use strict";
const vscode = require("vscode");

const METHOD = "railbond/railroad";
const AFTER = 2; // milliseconds: what is typed, pasted or mended at once is asked for once

class Railroad {
  constructor(context, server) {
    this.server = server;
    this.setting = {};
    this.watching = [
      vscode.workspace.onDidChangeTextDocument(({ document }) => document.languageId === "trackplan" && this.soon()),
      vscode.window.onDidChangeActiveTextEditor((editor) => this.turnTo(editor)),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => this.point(textEditor)),
      server.onStarted(() => this.soon()),
      server.onTold(() => this.isUnexplained && this.soon()),
    ];
    context.subscriptions.push(...this.watching);
  }

  async show() {
    const document = vscode.window.activeTextEditor?.document;
    if (document?.languageId !== "trackplan") {
      void vscode.window.showInformationMessage("Open a wiring plan first.");
      return;
    }
    this.document = document;
    if (this.panel) {
      this.panel.reveal(undefined, true);
      return this.renew();
    }
    this.panel = vscode.window.createWebviewPanel(
      "railbond.railroad",
      "The railroad",
      { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
      { enableScripts: true, retainContextWhenHidden: true, localResourceRoots: [] },
    );
    this.panel.onDidDispose(() => (this.panel = undefined));
    this.panel.webview.onDidReceiveMessage((message) => this.hear(message));
    await this.renew(true);
  }

  /** Another plan is in front: the panel follows. */
  turnTo(editor) {
    const document = editor?.document;
    if (!this.panel || document?.languageId !== "trackplan" || document === this.document) return;
    this.document = document;
    void this.renew();
  }

  /** One question at a time: while one is under way the next waits for its answer, and asks of the text as it is then. */
  soon() {
    clearTimeout(this.timer);
    if (!this.panel) return;
    if (this.asking) this.isDue = true;
    else this.timer = setTimeout(() => this.renew(), AFTER);
  }

  /** Asks the server for the railroad as the text has it now, or for what is new of that which the panel has. */
  async renew(page = false) {
    const { client } = this.server;
    if (!this.panel || !client?.isRunning()) return this.post({ railbond: "stale", words: "The server does not run: this is the railroad as it was." });
    const { uri } = this.document;
    const answer = await this.asked(client, { textDocument: { uri: uri.toString() }, page, has: this.has });
    if (!this.panel || !answer || uri !== this.document.uri) return;
    if (answer.stale) return this.post({ railbond: "stale", words: answer.stale });
    this.has = answer.number;
    this.isUnexplained = answer.unexplained;
    this.panel.title = answer.title;
    if (answer.page) this.panel.webview.html = answer.page;
    else this.post({ railbond: "shown", shown: answer.shown, changes: answer.changes, since: answer.since });
  }

  async asked(client, what) {
    this.asking = (this.asking ?? 0) + 1;
    try {
      return await client.sendRequest(METHOD, what).catch(() => null);
    } finally {
      this.asking -= 1;
      if (this.isDue && !this.asking) {
        this.isDue = false;
        this.soon();
      }
    }
  }

  post(message) {
    void this.panel?.webview.postMessage(message);
  }

  /** The line that the cursor is on is marked in the drawing. */
  point(editor) {
    if (!this.panel || editor.document.languageId !== "trackplan") return;
    const { line } = editor.selection.active;
    if (line === this.line) return;
    this.line = line;
    this.post({ railbond: "cursor", path: editor.document.uri.fsPath, line: line + 1 });
  }

  hear(message) {
    if (message.railbond === "thrown") this.setting = message.setting;
    if (message.railbond === "behind") {
      this.has = undefined;
      this.soon();
    }
    if (["chosen", "finding"].includes(message.railbond) && message.at) void this.goTo(message.at);
    if (message.railbond === "mend" && message.at) void this.mend(message.at);
  }

  async goTo([path, line], keep = true) {
    const document = await vscode.workspace.openTextDocument(vscode.Uri.file(path));
    const seen = vscode.window.visibleTextEditors.find((editor) => editor.document === document);
    const range = document.lineAt(Math.min(line, document.lineCount) - 1).range;
    const column = seen?.viewColumn ?? vscode.ViewColumn.One;
    this.line = range.start.line;
    return vscode.window.showTextDocument(document, { viewColumn: column, selection: new vscode.Range(range.start, range.start), preserveFocus: keep });
  }

  /** The lightbulb of a finding, from the other side. */
  async mend(at) {
    const editor = await this.goTo(at, false);
    const here = vscode.languages.getDiagnostics(editor.document.uri).find((one) => one.range.start.line === at[1] - 1);
    if (here) editor.selection = new vscode.Selection(here.range.start, here.range.start);
    await vscode.commands.executeCommand("editor.action.quickFix");
  }

  async throwTurnout() {
    if (!this.panel) await this.show();
    const picks = Object.entries(this.setting).map(([name, position]) => ({ label: name, description: position }));
    const pick = await vscode.window.showQuickPick(picks, { placeHolder: "Which turnout shall be thrown?" });
    if (pick) this.post({ railbond: "throw", name: pick.label });
  }

  dispose() {
    clearTimeout(this.timer);
    this.watching.forEach((one) => one.dispose());
    this.panel?.dispose();
  }
}

module.exports = { Railroad };
