// Looks for the server program. Knows nothing of the editor, so that it can be
// tried without one.
import * as fs from "node:fs";
import * as path from "node:path";

/** Where to look. */
export interface Places {
  /** The setting ohmstead.server.path; may start with "~". */
  setting: string;
  /** The extension's own directory for it: packages for a system bring the program along. */
  own: string;
  env: NodeJS.ProcessEnv;
  home: string;
  /** Folders whose own program may be run: those that the user trusts. */
  folders: string[];
  windows: boolean;
}

/** A program that can be run, or what was tried. */
export type Found = { program: string } | { tried: string[]; setting: boolean };

/** Finds the server: the setting alone when there is one, else what the extension brings, PATH, Go's bin directories, the workspace. */
export function findServer(p: Places): Found {
  const exe = p.windows ? "ohmstead.exe" : "ohmstead";
  if (p.setting) {
    const program = p.setting.replace(/^~(?=[\\/])/, p.home);
    const tried = path.isAbsolute(program)
      ? [program]
      : p.folders.map((folder) => path.join(folder, program));
    return first(tried) ?? { tried, setting: true };
  }
  const list = (name: string) => (p.env[name] ?? "").split(path.delimiter).filter((d) => d !== "");
  const gopath = list("GOPATH").length > 0 ? list("GOPATH") : [path.join(p.home, "go")];
  const directories = [
    p.own,
    ...list("PATH"),
    ...list("GOBIN"),
    ...gopath.map((d) => path.join(d, "bin")),
    ...p.folders,
  ];
  const tried = directories.map((d) => path.join(d, exe));
  return first(tried) ?? { tried, setting: false };
}

function first(programs: string[]): { program: string } | undefined {
  const program = programs.find(canRun);
  return program === undefined ? undefined : { program };
}

function canRun(file: string): boolean {
  try {
    fs.accessSync(file, fs.constants.X_OK);
    return fs.statSync(file).isFile();
  } catch {
    return false;
  }
}
