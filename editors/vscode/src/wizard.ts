// A first plan by five questions. The program writes it, with power and data
// that pass, or says why there is none.
import { execFile } from "node:child_process";
import * as fs from "node:fs";
import * as path from "node:path";
import { promisify } from "node:util";
import * as vscode from "vscode";
import { stripsOf } from "./strips";

const run = promisify(execFile);

/** What the program calls the file of a new plan. */
const file = "plan.ohm.hcl";

/** Asks, has the plan written, and opens it. */
export async function newPlan(program: string): Promise<void> {
  const folder = vscode.workspace.workspaceFolders?.find((f) => f.uri.scheme === "file")?.uri.fsPath
    ?? (await vscode.window.showOpenDialog({ title: "The folder that the plan's own goes into", canSelectFolders: true, canSelectFiles: false }))?.[0].fsPath;
  if (!folder) return;
  const asks = { title: "New Plan", ignoreFocusOut: true }; // answers are not lost by a look elsewhere
  const name = await vscode.window.showInputBox({
    ...asks, prompt: "Its name; the plan gets a folder that is called so", value: "first",
    validateInput: (v) => {
      if (!/^[A-Za-z][A-Za-z0-9_-]*$/.test(v)) return "A letter first, then letters, digits, - and _";
      return fs.existsSync(path.join(folder, v, file)) ? `${v} has a plan already` : undefined;
    },
  });
  if (!name) return;
  const length = await vscode.window.showInputBox({
    ...asks, prompt: "How long is the strip?", value: "3 m",
    validateInput: (v) => (/^\d/.test(v) && /[a-z"']$/i.test(v) ? undefined : "A number and its unit, such as 3.6 m or 11 ft 8 in"),
  });
  if (!length) return;
  const strips = stripsOf((await run(program, ["catalog", "strip"])).stdout);
  const volts = await vscode.window.showQuickPick([...new Set(strips.map((s) => s.volts))].sort((a, b) => parseFloat(a) - parseFloat(b)), {
    ...asks, placeHolder: "Which voltage does it take?",
  });
  if (!volts) return;
  const strip = await vscode.window.showQuickPick(
    strips.filter((s) => s.volts === volts).map((s) => ({ label: s.name, description: `${s.chip}, ${s.density}` })),
    { ...asks, placeHolder: "Which strip is it most like? Values can be corrected in the plan", matchOnDescription: true },
  );
  if (!strip) return;
  const mains = await vscode.window.showQuickPick(["230 V", "120 V", "100 V", "110 V", "127 V", "220 V", "240 V"], { ...asks, placeHolder: "What comes out of the wall where it hangs?" });
  if (!mains) return;
  const dir = path.join(folder, name);
  try {
    await vscode.window.withProgress({ location: vscode.ProgressLocation.Notification, title: "Working out wires and fuses" }, () =>
      run(program, ["new", dir, "--length", length, "--strip", strip.label, "--mains", mains]));
  } catch (problem) {
    const said = (problem as { stderr?: string }).stderr?.trim() || String(problem);
    await vscode.window.showErrorMessage(said.replace(/^ohmstead: /, "Ohmstead: "), { modal: true });
    return;
  }
  await vscode.window.showTextDocument(vscode.Uri.file(path.join(dir, file)));
}
