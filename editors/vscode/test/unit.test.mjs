// What can be tried without an editor: finding the server, and that snippets,
// settings and the manifest fit the language and one another.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import { buildSync } from "esbuild";

const root = path.join(path.dirname(fileURLToPath(import.meta.url)), "..");
const json = (name) => JSON.parse(fs.readFileSync(path.join(root, name), "utf8"));
const manifest = json("package.json");
const words = json("../grammar/words.json");
const snippets = json("snippets/ohmstead.json");

const scratch = fs.mkdtempSync(path.join(os.tmpdir(), "ohmstead-"));
process.on("exit", () => fs.rmSync(scratch, { recursive: true }));
const bundle = path.join(scratch, "find.mjs");
buildSync({ entryPoints: [path.join(root, "src/find.ts")], outfile: bundle, bundle: true, platform: "node", format: "esm" });
const { findServer } = await import(bundle);
const strips = path.join(scratch, "strips.mjs");
buildSync({ entryPoints: [path.join(root, "src/strips.ts")], outfile: strips, bundle: true, platform: "node", format: "esm" });
const { stripsOf } = await import(strips);

/** A directory that holds a program ohmstead; mode 0644 cannot be run. */
function directory(name, mode = 0o755) {
  const dir = path.join(scratch, name);
  fs.mkdirSync(dir, { recursive: true });
  fs.writeFileSync(path.join(dir, "ohmstead"), "", { mode });
  return dir;
}

test("finds the server", async (t) => {
  const inPath = directory("in-path");
  const gobin = directory("gobin");
  const gopath = path.dirname(directory("gopath/bin"));
  const home = path.dirname(path.dirname(directory("home/go/bin")));
  const folder = directory("folder");
  const own = directory("own");
  const dead = directory("dead", 0o644);
  const none = { setting: "", own: path.join(scratch, "nothing"), env: {}, home: path.join(scratch, "nobody"), folders: [], windows: false };
  const rows = [
    { name: "in PATH before other places", in: { env: { PATH: inPath, GOBIN: gobin }, folders: [folder] }, want: inPath },
    { name: "its own before all else", in: { own, env: { PATH: inPath } }, want: own },
    { name: "the setting before its own", in: { own, setting: gobin + "/ohmstead" }, want: gobin },
    { name: "in GOBIN", in: { env: { GOBIN: gobin, GOPATH: gopath } }, want: gobin },
    { name: "in GOPATH", in: { env: { GOPATH: gopath }, home }, want: gopath + "/bin" },
    { name: "in the home's go/bin", in: { home }, want: home + "/go/bin" },
    { name: "at the top of a trusted folder", in: { folders: [folder] }, want: folder },
    { name: "not one that cannot be run", in: { env: { PATH: dead } }, want: undefined },
    { name: "the setting wins", in: { setting: gobin + "/ohmstead", env: { PATH: inPath } }, want: gobin },
    { name: "a setting from the home", in: { setting: "~/go/bin/ohmstead", home }, want: home + "/go/bin" },
    { name: "a setting within the workspace", in: { setting: "./ohmstead", folders: [folder] }, want: folder },
    { name: "a wrong setting is not made up for", in: { setting: "/nowhere/ohmstead", env: { PATH: inPath } }, want: undefined },
    { name: "nothing", in: {}, want: undefined },
  ];
  for (const row of rows) {
    await t.test(row.name, () => {
      const found = findServer({ ...none, ...row.in });
      assert.equal(found.program, row.want && path.join(row.want, "ohmstead"));
    });
  }
});

/** The text that a snippet puts down when nothing is typed into it. */
const expand = (s) =>
  s.body.join("\n")
    .replace(/\$\{\d+\|([^,|]*)[^}]*\|\}/g, "$1")
    .replace(/\$\{\d+:([^}]*)\}/g, "$1")
    .replace("$CURRENT_YEAR-$CURRENT_MONTH-$CURRENT_DATE", "2026-05-01")
    .replace(/\$\d+/g, "");

test("snippets use the words of the language", () => {
  for (const s of Object.values(snippets)) {
    const text = expand(s);
    const head = /^(\w+)[^\n]*\{/.exec(text);
    if (!head) continue;
    assert.ok(words.blocks.includes(head[1]), head[1]);
    if (head[1] === "let" || head[1] === "runs") continue; // names of the maker's own
    for (const [, name] of text.matchAll(/(\w+)\s*=/g)) assert.ok(words.attributes.includes(name), `${head[1]}: ${name}`);
    const inside = head[1] === "assembly" ? words.blocks : words.nested; // an assembly holds whole blocks
    for (const [, name] of text.matchAll(/^\s+(\w+)(?: "[^"]*")? \{/gm)) assert.ok(inside.includes(name), `${head[1]}: ${name}`);
  }
});

const program = process.env.OHMSTEAD_BIN;
if (program || process.env.OHMSTEAD_NO_SKIP) {
  test("snippets are laid out as the formatter would", () => {
    const dir = path.join(scratch, "snippets");
    fs.mkdirSync(dir);
    for (const [name, s] of Object.entries(snippets)) {
      fs.writeFileSync(path.join(dir, name + ".ohm.hcl"), expand(s).trimEnd() + "\n");
    }
    execFileSync(program ?? "ohmstead", ["fmt", "--check", dir], { stdio: "pipe" });
  });
  test("the strips of the catalogue are told apart", () => {
    const all = stripsOf(execFileSync(program ?? "ohmstead", ["catalog", "strip"], { encoding: "utf8" }));
    assert.ok(all.length > 20);
    for (const s of all) assert.ok(/^\d+ V$/.test(s.volts) && s.chip && /\/m$/.test(s.density), JSON.stringify(s));
  });
} else {
  console.log("layout of snippets not tried: OHMSTEAD_BIN names no program");
}

test("every file that the manifest names exists", () => {
  const { languages, grammars, snippets: snippetFiles } = manifest.contributes;
  const files = [languages[0].configuration, ...Object.values(languages[0].icon), snippetFiles[0].path];
  files.push(...manifest.contributes.walkthroughs.flatMap((w) => w.steps.map((s) => s.media.markdown)));
  for (const file of files) assert.ok(fs.existsSync(path.join(root, file)), file);
  assert.equal(grammars[0].scopeName, json("../grammar/ohmstead.tmLanguage.json").scopeName);
});

test("the settings are those of the server", () => {
  const table = fs.readFileSync(path.join(root, "../../lsp/SETTINGS.md"), "utf8");
  const rows = [...table.matchAll(/^\| `(ohmstead\.[\w.]+)` \| (\w+) \| `(.*?)` \| (.*) \|$/gm)];
  assert.ok(rows.length > 0, "no rows in lsp/SETTINGS.md");
  const { properties } = manifest.contributes.configuration;
  for (const [, name, kind, byDefault, doc] of rows) {
    const setting = properties[name];
    assert.ok(setting, `${name} is missing`);
    assert.equal(setting.type, { bool: "boolean", string: "string" }[kind], name);
    // Hovers of this editor show images, which the server takes of none unasked.
    assert.equal(JSON.stringify(setting.default), name === "ohmstead.hover.pictures" ? "true" : byDefault, name);
    assert.equal(setting.description, doc, name);
  }
  const own = ["ohmstead.server.path"];
  assert.deepEqual(Object.keys(properties).sort(), [...own, ...rows.map((r) => r[1])].sort());
});
