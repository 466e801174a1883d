// The server's own documents: the built-in catalogue and the pages of the
// rules. The protocol has a request for them since 3.18; the client library
// does not send it yet.
import * as vscode from "vscode";
import type { ClientCapabilities, LanguageClient, StaticFeature } from "vscode-languageclient/node";

const schemes = ["ohmstead-catalog", "ohmstead-rule"];

/** Tells the server that its documents can be shown. */
export const documentsFeature: StaticFeature = {
  fillClientCapabilities(capabilities: ClientCapabilities): void {
    Object.assign((capabilities.workspace ??= {}), { textDocumentContent: { dynamicRegistration: false } });
  },
  initialize(): void {},
  getState: () => ({ kind: "static" }),
  clear(): void {},
};

/** Shows the server's documents, as long as there is a server. */
export function provideDocuments(client: () => LanguageClient | undefined): vscode.Disposable {
  const provider: vscode.TextDocumentContentProvider = {
    async provideTextDocumentContent(uri, token) {
      const answer = await client()?.sendRequest<{ text: string }>(
        "workspace/textDocumentContent",
        { uri: uri.toString() },
        token,
      );
      return answer?.text;
    },
  };
  return vscode.Disposable.from(...schemes.map((s) => vscode.workspace.registerTextDocumentContentProvider(s, provider)));
}
