// Bundles the extension into dist/, and puts the grammar beside it: a package
// holds only what lies under this folder.
import { build } from "esbuild";
import fs from "node:fs";

await build({
  entryPoints: ["src/extension.ts"],
  outfile: "dist/extension.js",
  bundle: true,
  platform: "node",
  target: "node18",
  format: "cjs",
  external: ["vscode"],
  minify: true,
  legalComments: "linked",
});
fs.copyFileSync("../grammar/ohmstead.tmLanguage.json", "dist/ohmstead.tmLanguage.json");
