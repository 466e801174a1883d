// The live page in a panel beside the text. The server serves it; the panel
// shows the same files from the extension, and the extension passes on what
// the server says, so that it works where the editor's window is on another
// machine than the plan, too.
import * as fs from "node:fs";
import * as path from "node:path";
import * as vscode from "vscode";
import type { LanguageClient } from "vscode-languageclient/node";

let panel: vscode.WebviewPanel | undefined;
let listening: AbortController | undefined;

/** Shows the plan of a document in the panel. */
export async function showPage(context: vscode.ExtensionContext, client: LanguageClient, document: vscode.Uri | undefined): Promise<void> {
  const address = await client.sendRequest<string>("workspace/executeCommand", {
    command: "ohmstead.view",
    arguments: [document ? client.code2ProtocolConverter.asUri(document) : "", false],
  });
  listening?.abort();
  const own = (listening = new AbortController());
  const folder = path.join(context.extensionPath, "dist", "page");
  if (!panel) {
    const made = (panel = vscode.window.createWebviewPanel("ohmstead.page", "Ohmstead", { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }, {
      enableScripts: true,
      retainContextWhenHidden: true,
      localResourceRoots: [vscode.Uri.file(folder)],
    }));
    made.onDidDispose(() => {
      panel = undefined;
      listening?.abort();
    });
    context.subscriptions.push(made);
  } else panel.reveal(undefined, true);
  const { webview } = panel;
  const asks = webview.onDidReceiveMessage((ask: Ask) => void answer(webview, address, ask, own.signal));
  own.signal.addEventListener("abort", () => asks.dispose());
  webview.html = html(webview, folder);
}

interface Ask {
  ready?: boolean;
  jump?: unknown;
  pattern?: string;
  number?: number;
}

async function answer(webview: vscode.Webview, address: string, ask: Ask, signal: AbortSignal): Promise<void> {
  try {
    if (ask.ready) return await relay(webview, address, signal);
    if (ask.jump) {
      // The text is shown in the group that has the focus: not in the panel's.
      await vscode.commands.executeCommand("workbench.action.focusFirstEditorGroup");
      await fetch(address + "jump", { method: "POST", body: JSON.stringify(ask.jump), signal });
    }
    if (ask.pattern !== undefined) {
      const got = await fetch(`${address}pattern?of=${encodeURIComponent(ask.pattern)}`, { signal });
      await webview.postMessage({ pattern: got.ok ? await got.json() : {}, number: ask.number });
    }
  } catch {
    // The server is gone, or another page took its place.
    if (!signal.aborted) await webview.postMessage({ there: false });
  }
}

/** Passes on the server's events until it ends. */
async function relay(webview: vscode.Webview, address: string, signal: AbortSignal): Promise<void> {
  const { body } = await fetch(address + "events", { signal });
  const decoder = new TextDecoder();
  await webview.postMessage({ there: true });
  let text = "";
  for await (const chunk of body!) {
    text += decoder.decode(chunk as Uint8Array, { stream: true });
    for (let end = text.indexOf("\n\n"); end >= 0; end = text.indexOf("\n\n")) {
      const data = /^data: (.*)$/m.exec(text.slice(0, end));
      text = text.slice(end + 2);
      if (data) await webview.postMessage({ news: JSON.parse(data[1]) });
    }
  }
  await webview.postMessage({ there: false });
}

/** The page's own index, with its files taken from the extension. */
function html(webview: vscode.Webview, folder: string): string {
  const file = (name: string) => webview.asWebviewUri(vscode.Uri.file(path.join(folder, name))).toString();
  const policy = `default-src 'none'; script-src ${webview.cspSource}; style-src ${webview.cspSource}`;
  return fs.readFileSync(path.join(folder, "index.html"), "utf8")
    .replace(/<link rel="icon"[^>]*>/, `<meta http-equiv="Content-Security-Policy" content="${policy}">`)
    .replace('href="style.css"', `href="${file("style.css")}"`)
    .replace('src="main.js"', `src="${file("main.js")}"`);
}
