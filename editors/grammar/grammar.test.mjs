// Tokenizes the fixtures in testdata/ with the engine that VS Code uses.
//
// In a fixture, a comment line of carets names the scope of what stands above
// them, "#<-" names that of the first character, and "!" denies one. Such
// lines are taken out before the grammar sees the text.
import assert from "node:assert/strict";
import fs from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const textmate = require("vscode-textmate");
const oniguruma = require("vscode-oniguruma");
const here = path.dirname(fileURLToPath(import.meta.url));

await oniguruma.loadWASM(fs.readFileSync(require.resolve("vscode-oniguruma/release/onig.wasm")));

async function load(file) {
  const text = fs.readFileSync(path.join(here, file), "utf8");
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (s) => new oniguruma.OnigString(s),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(text, file + (file.endsWith(".json") ? "" : ".plist")),
  });
  return registry.loadGrammar("source.ohmstead");
}

const has = (scopes, want) => scopes.some((s) => s === want || s.startsWith(want + "."));

/** Returns what is wrong with a fixture, and how many assertions it holds. */
function judge(grammar, text) {
  const wrong = [];
  let asserted = 0;
  let above = null;
  let stack = textmate.INITIAL;
  text.split("\n").forEach((line, i) => {
    const mark = /^\s*#(?:<-|\s*(\^+))\s+(!?)(\S+)\s*$/.exec(line);
    if (!mark) {
      const result = grammar.tokenizeLine(line, stack);
      stack = result.ruleStack;
      above = { line, tokens: result.tokens };
      return;
    }
    const [, carets, not, scope] = mark;
    const from = carets ? line.indexOf("^") : 0;
    const to = carets ? from + carets.length : 1;
    asserted++;
    for (let column = from; column < to; column++) {
      const token = above.tokens.find((t) => t.startIndex <= column && column < t.endIndex);
      if (has(token?.scopes ?? [], scope) === (not === "!")) {
        wrong.push(`line ${i + 1}: column ${column + 1} of ${JSON.stringify(above.line)} has ${token?.scopes.join(" ")}`);
        break;
      }
    }
  });
  return { wrong, asserted };
}

const fixtures = fs.readdirSync(path.join(here, "testdata"));

for (const file of ["ohmstead.tmLanguage.json", "../sublime/ohmstead.tmLanguage"]) {
  const grammar = await load(file);
  for (const fixture of fixtures) {
    test(`${path.basename(file)}: ${fixture}`, () => {
      const { wrong, asserted } = judge(grammar, fs.readFileSync(path.join(here, "testdata", fixture), "utf8"));
      assert.ok(asserted > 0, "no assertions");
      assert.deepEqual(wrong, []);
    });
  }
}

const grammar = await load("ohmstead.tmLanguage.json");

test("every unit of words.json is marked in a quantity", () => {
  const { units } = JSON.parse(fs.readFileSync(path.join(here, "words.json"), "utf8"));
  for (const unit of units) {
    const line = `x = "1.5 ${unit}"`;
    const { tokens } = grammar.tokenizeLine(line, textmate.INITIAL);
    const token = tokens.find((t) => t.startIndex === line.indexOf(unit, 8));
    assert.ok(token && has(token.scopes, "keyword.other.unit.ohmstead"), `${line}: ${token?.scopes}`);
  }
});

test("a block type, attribute or function of words.json is marked, another word is not", () => {
  const words = JSON.parse(fs.readFileSync(path.join(here, "words.json"), "utf8"));
  const first = (line) => grammar.tokenizeLine(line, textmate.INITIAL).tokens[0].scopes;
  for (const w of words.blocks) assert.ok(has(first(`${w} "a" {`), "storage.type.block"), w);
  for (const w of words.nested) assert.ok(has(first(`${w} {`), "storage.type.nested"), w);
  for (const w of words.attributes) assert.ok(has(first(`${w} = 1`), "variable.other.property"), w);
  for (const w of words.functions) assert.ok(has(first(`${w}(`), "support.function"), w);
  assert.ok(!has(first(`rnu "a" {`), "storage.type"));
  assert.ok(!has(first(`lenght = 1`), "variable.other.property"));
});
