// Lessons of rules, as `railbond rules NAME` prints them, in a tab of their own.
"use strict";
const vscode = require("vscode");
const { execFile } = require("node:child_process");

const SCHEME = "railbond-lesson";

function printed(server, ...words) {
  const program = server.program();
  if (!program) return Promise.reject(new Error("the program railbond was not found"));
  return new Promise((resolve, reject) => {
    execFile(program, ["rules", ...words], { timeout: 20_000, maxBuffer: 1 << 22 }, (error, out, told) =>
      error ? reject(new Error(told.trim() || error.message)) : resolve(out),
    );
  });
}

function provideLessons(server) {
  return vscode.workspace.registerTextDocumentContentProvider(SCHEME, {
    provideTextDocumentContent: (uri) => printed(server, uri.path.split("/").pop()),
  });
}

/** The rule whose finding is at the cursor, if one is. */
function atCursor() {
  const editor = vscode.window.activeTextEditor;
  if (!editor) return undefined;
  const here = vscode.languages.getDiagnostics(editor.document.uri).find((one) => one.range.contains(editor.selection.active));
  const code = here?.code;
  return typeof code === "object" ? code.value : code;
}

async function chosen(server) {
  const lines = (await printed(server)).split("\n").filter((line) => /^ *[a-z-]+ +(error|warning|note)\b/.test(line));
  const picks = lines.map((line) => {
    const [label, ...rest] = line.trim().split(/\s+/);
    return { label, description: rest.join(" ") };
  });
  const pick = await vscode.window.showQuickPick(picks, { placeHolder: "Which lesson?", matchOnDescription: true });
  return pick?.label;
}

async function openLesson(server, name) {
  try {
    const rule = name ?? atCursor() ?? (await chosen(server));
    if (!rule) return;
    const uri = vscode.Uri.from({ scheme: SCHEME, path: `/${rule}` });
    const document = await vscode.workspace.openTextDocument(uri);
    await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Beside, preview: true });
  } catch (error) {
    void vscode.window.showErrorMessage(`railbond: ${error.message}`);
  }
}

module.exports = { openLesson, provideLessons };
