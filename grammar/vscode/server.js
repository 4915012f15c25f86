// The language server's life: found, started, started again when it dies, and said so.
"use strict";
const vscode = require("vscode");
const { CloseAction, ErrorAction, LanguageClient, State } = require("vscode-languageclient/node");
const { findServer } = require("./finding");

const MOST_DEATHS = 5;
const WITHIN = 180_000; // milliseconds: a server that dies more often than that stays dead, and it is said

class Server {
  constructor(context, verdict) {
    this.context = context;
    this.verdict = verdict;
    this.deaths = [];
    this.started = new vscode.EventEmitter();
    /** Tells whoever shows something that there is a fresh server. */
    this.onStarted = this.started.event;
    this.told = new vscode.EventEmitter();
    /** Tells of new findings. */
    this.onTold = this.told.event;
    const changed = (event) => event.affectsConfiguration("railbond.server") && this.restart();
    this.watching = vscode.workspace.onDidChangeConfiguration(changed);
    this.trusting = vscode.workspace.onDidGrantWorkspaceTrust(() => this.restart());
  }

  /** The program to start, or undefined. A folder that is not trusted brings no program of its own. */
  program() {
    const folders = (vscode.workspace.workspaceFolders ?? []).map((folder) => folder.uri.fsPath);
    const set = vscode.workspace.getConfiguration("railbond").get("server") ?? "";
    return findServer(set, vscode.workspace.isTrusted ? folders : []);
  }

  async start() {
    const command = this.program();
    if (!command) {
      this.verdict.down("no server found");
      void this.offerHelp();
      return;
    }
    this.client = new LanguageClient("railbond", "railbond", { command, args: ["serve"] }, this.options());
    this.client.onDidChangeState(({ newState }) => newState === State.Running && this.isUp());
    try {
      await this.client.start();
    } catch (error) {
      this.verdict.down("could not be started");
      const told = `railbond could not be started (${command}): ${error.message ?? error}`;
      void this.offerHelp(told);
    }
  }

  options() {
    return {
      documentSelector: [{ language: "trackplan" }],
      outputChannelName: "railbond",
      middleware: {
        handleDiagnostics: (uri, diagnostics, next) => {
          next(uri, diagnostics);
          this.verdict.told(uri, diagnostics);
          this.told.fire(uri);
        },
      },
      errorHandler: {
        error: () => ({ action: ErrorAction.Continue }),
        closed: () => this.closed(),
      },
    };
  }

  closed() {
    const now = Date.now();
    this.deaths = [...this.deaths.filter((at) => now - at < WITHIN), now];
    if (this.deaths.length > MOST_DEATHS) {
      this.verdict.down("it keeps stopping");
      void this.offerRestart();
      return { action: CloseAction.DoNotRestart, handled: true };
    }
    this.verdict.down("starting again");
    void vscode.window.showWarningMessage("railbond stopped and was started again.");
    return { action: CloseAction.Restart, handled: true };
  }

  isUp() {
    this.verdict.up();
    this.started.fire(this.client);
  }

  async restart() {
    this.deaths = [];
    await this.stop();
    await this.start();
  }

  async stop() {
    const { client } = this;
    this.client = undefined;
    await client?.dispose(2000).catch(() => undefined);
  }

  async offerRestart() {
    const again = "Start Again";
    const chosen = await vscode.window.showErrorMessage("railbond keeps stopping. Its findings may be old.", again, "Show Output");
    if (chosen === again) await this.restart();
    else if (chosen) this.client?.outputChannel.show();
  }

  async offerHelp(told = "The program railbond was not found, so this plan is not proven.") {
    const how = "How to Install";
    if ((await vscode.window.showErrorMessage(told, how)) === how) await this.tellHowToInstall();
  }

  tellHowToInstall() {
    const page = vscode.Uri.joinPath(this.context.extensionUri, "README.md");
    return vscode.commands.executeCommand("markdown.showPreview", page);
  }

  dispose() {
    this.watching.dispose();
    this.trusting.dispose();
    this.started.dispose();
    this.told.dispose();
    return this.stop();
  }
}

module.exports = { Server };
