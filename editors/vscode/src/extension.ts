// The client: finds the server, keeps it running, and says how it is.
import * as fs from "node:fs";
import * as os from "node:os";
import * as path from "node:path";
import * as vscode from "vscode";
import {
  LanguageClient,
  RevealOutputChannelOn,
  State,
  TransportKind,
} from "vscode-languageclient/node";
import { documentsFeature, provideDocuments } from "./documents";
import { findServer } from "./find";
import { showPage } from "./page";
import { newPlan } from "./wizard";

const install = "go install ./cmd/ohmstead";

let client: LanguageClient | undefined;
/** Where a package for one system has the program. */
let own = "";
let output: vscode.OutputChannel;
let status: vscode.LanguageStatusItem;
/** Starts and stops wait for one another. */
let queue: Promise<void> = Promise.resolve();

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  own = context.asAbsolutePath("bin");
  output = vscode.window.createOutputChannel("Ohmstead");
  status = vscode.languages.createLanguageStatusItem("ohmstead.server", { language: "ohmstead" });
  status.name = "Ohmstead server";
  context.subscriptions.push(
    output,
    status,
    provideDocuments(() => client),
    vscode.commands.registerCommand("ohmstead.restartServer", async () => {
      await restart();
      // A step of the walkthrough is done when this becomes true while it is shown: what was true before does not count.
      await vscode.commands.executeCommand("setContext", "ohmstead.found", client?.state === State.Running);
    }),
    vscode.commands.registerCommand("ohmstead.newPlan", async () => {
      const { found, folders } = find();
      await ("program" in found ? newPlan(found.program) : explain(found.setting, folders));
    }),
    vscode.commands.registerCommand("ohmstead.showPlan", () => withServer((c, document) => showPage(context, c, document))),
    vscode.commands.registerCommand("ohmstead.showPlanInBrowser", () =>
      withServer((c, document) => vscode.commands.executeCommand("ohmstead.view", ...(document ? [c.code2ProtocolConverter.asUri(document)] : [])))),
    vscode.commands.registerCommand("ohmstead.showOutput", () => output.show(true)),
    vscode.workspace.onDidGrantWorkspaceTrust(restart),
    vscode.workspace.onDidChangeConfiguration((e) => {
      if (e.affectsConfiguration("ohmstead.server.path")) void restart();
    }),
  );
  await restart();
}

export async function deactivate(): Promise<void> {
  await stop();
}

/** Does something with the server and the document in front, if the server runs. */
async function withServer(run: (client: LanguageClient, document: vscode.Uri | undefined) => Thenable<unknown>): Promise<void> {
  if (client?.state !== State.Running) {
    await vscode.window.showErrorMessage("Ohmstead: the server does not run, so there is nothing to show.");
    return;
  }
  await run(client, vscode.window.activeTextEditor?.document.uri);
}

function restart(): Promise<void> {
  queue = queue.then(stop).then(start);
  return queue;
}

async function stop(): Promise<void> {
  const old = client;
  client = undefined;
  // A server that never came up, or is long gone, cannot be stopped; that is no news.
  await old?.dispose().catch(() => undefined);
}

/** Looks for the program where it may be run from. */
function find() {
  const folders = vscode.workspace.isTrusted
    ? (vscode.workspace.workspaceFolders ?? []).filter((f) => f.uri.scheme === "file").map((f) => f.uri.fsPath)
    : [];
  const found = findServer({
    setting: vscode.workspace.getConfiguration("ohmstead").get("server.path", ""),
    own,
    env: process.env,
    home: os.homedir(),
    folders,
    windows: process.platform === "win32",
  });
  return { found, folders };
}

async function start(): Promise<void> {
  const { found, folders } = find();
  if (!("program" in found)) {
    show("not found", vscode.LanguageStatusSeverity.Error);
    output.appendLine("No ohmstead program. Looked at:\n  " + found.tried.join("\n  "));
    void explain(found.setting, folders);
    return;
  }
  output.appendLine(`Starting ${found.program} lsp`);
  client = new LanguageClient(
    "ohmstead",
    "Ohmstead",
    { command: found.program, args: ["lsp"], transport: TransportKind.stdio },
    {
      documentSelector: [{ language: "ohmstead", scheme: "file" }, { language: "ohmstead", scheme: "untitled" }],
      outputChannel: output,
      revealOutputChannelOn: RevealOutputChannelOn.Never,
      initializationOptions: { suggestCommand: "editor.action.triggerSuggest" },
    },
  );
  client.registerFeature(documentsFeature);
  client.onDidChangeState((e) => {
    if (e.newState === State.Running) show("running", vscode.LanguageStatusSeverity.Information, found.program);
    if (e.newState === State.Starting) show("starting", vscode.LanguageStatusSeverity.Information, found.program);
    if (e.newState === State.Stopped) show("stopped", vscode.LanguageStatusSeverity.Warning, found.program);
  });
  try {
    await client.start();
  } catch (problem) {
    show("did not start", vscode.LanguageStatusSeverity.Error, found.program);
    const choice = await vscode.window.showErrorMessage(
      `Ohmstead: ${found.program} did not start as a language server: ${problem}`,
      "Show Output",
    );
    if (choice) output.show(true);
  }
}

function show(state: string, severity: vscode.LanguageStatusSeverity, detail?: string): void {
  status.text = `Ohmstead: ${state}`;
  status.severity = severity;
  status.detail = detail;
  status.busy = state === "starting";
  status.command = severity === vscode.LanguageStatusSeverity.Information
    ? { command: "ohmstead.showOutput", title: "Show Output" }
    : { command: "ohmstead.restartServer", title: "Restart" };
}

/** Says how to get the program, with a button for each way. */
async function explain(setting: boolean, folders: string[]): Promise<void> {
  const clone = folders.find((f) => fs.existsSync(path.join(f, "cmd", "ohmstead")));
  const build = clone ? "Install from This Workspace" : "Copy Install Command";
  const choice = await vscode.window.showErrorMessage(
    setting
      ? "Ohmstead: the program named in ohmstead.server.path is not there or cannot be run."
      : `Ohmstead: the program is not installed, so that nothing is checked. The extension's package for your system brings it along; with Go, in a clone of the repository: ${install}`,
    build,
    "Choose Program…",
    "Open Settings",
  );
  switch (choice) {
    case "Copy Install Command":
      await vscode.env.clipboard.writeText(install);
      break;
    case "Install from This Workspace": {
      const terminal = vscode.window.createTerminal({ name: "Ohmstead", cwd: clone });
      terminal.show();
      terminal.sendText(install);
      await vscode.window.showInformationMessage("Restart the Ohmstead server when the terminal is done.", "Restart")
        .then((again) => again && restart());
      break;
    }
    case "Choose Program…": {
      const chosen = await vscode.window.showOpenDialog({ title: "The ohmstead program", canSelectMany: false });
      if (chosen) {
        // The change of the setting restarts the server.
        await vscode.workspace.getConfiguration("ohmstead")
          .update("server.path", chosen[0].fsPath, vscode.ConfigurationTarget.Global);
      }
      break;
    }
    case "Open Settings":
      await vscode.commands.executeCommand("workbench.action.openSettings", "ohmstead.server.path");
      break;
  }
}
