// Bundles the extension into dist/, and puts beside it what a package must
// hold: the grammar, the live page, and the licences of the libraries in the bundle.
import { build } from "esbuild";
import fs from "node:fs";
import path from "node:path";

const { metafile } = await build({
  entryPoints: ["src/extension.ts"],
  outfile: "dist/extension.js",
  bundle: true,
  platform: "node",
  target: "node18",
  format: "cjs",
  external: ["vscode"],
  minify: true,
  metafile: true,
});
// The live page, which talks with the extension in place of the server.
const page = "../../lsp/page/static";
await build({
  entryPoints: [`${page}/main.js`],
  outfile: "dist/page/main.js",
  bundle: true,
  format: "esm",
  target: "es2022",
  minify: true,
  plugins: [{ name: "link", setup: (b) => b.onResolve({ filter: /^\.\/link\.js$/ }, () => ({ path: path.resolve("src/link.js") })) }],
});
for (const file of ["index.html", "style.css"]) fs.copyFileSync(`${page}/${file}`, `dist/page/${file}`);
fs.copyFileSync("../grammar/ohmstead.tmLanguage.json", "dist/ohmstead.tmLanguage.json");

const libraries = new Set(
  Object.keys(metafile.inputs).map((f) => /^node_modules\/(?:@[^/]+\/)?[^/]+/.exec(f)?.[0]).filter(Boolean),
);
const notices = [...libraries].sort().map((library) => {
  const file = fs.readdirSync(library).find((f) => /^licen[cs]e/i.test(f));
  if (!file) throw new Error(`${library} has no licence file`);
  return `${library.replace("node_modules/", "")}\n\n${fs.readFileSync(`${library}/${file}`, "utf8")}`;
});
fs.writeFileSync("dist/NOTICES.txt", notices.join("\n----\n\n"));
