// Writes the syntax files of all editors from templates/ and words.json, so
// that a word of the language stands in one list. With --check it writes
// nothing and fails when a file is stale.
//
// In a template {{units}} stands for the alternation "mm2|cm|m" of that list
// ({{units vim}} in Vim's very magic form), {{units words}} for "m cm mm2",
// {{units lisp}} for strings, {{units items}} for XML elements; {{number}} is
// the number of a quantity.
import fs from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

const here = path.dirname(fileURLToPath(import.meta.url));
const read = (name) => fs.readFileSync(path.join(here, name), "utf8");
const words = JSON.parse(read("words.json"));

const number = String.raw`[-+]?(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:\.\d+)?(?:[eE][-+]?\d+)?|\.\d+)`;

// Longest first: an alternation takes the first branch that fits.
const alternation = (list, special) =>
  [...list]
    .sort((a, b) => b.length - a.length || (a < b ? -1 : 1))
    .map((w) => w.replace(special, "\\$&"))
    .join("|");

const forms = {
  alternation: (list) => alternation(list, /[.*+?^${}()|[\]\\]/g),
  vim: (list) => alternation(list, /[^\w]/g),
  words: (list) => list.join(" "),
  lisp: (list) => list.map((w) => JSON.stringify(w)).join(" "),
  items: (list) => list.map((w) => `<item>${w}</item>`).join(""),
};

function fill(text) {
  return text.replace(/\{\{(\w+)(?: (\w+))?\}\}/g, (_, name, form = "alternation") => {
    if (name === "number") return number;
    if (!words[name]) throw new Error(`words.json has no list "${name}"`);
    return forms[form](words[name]);
  });
}

/** Fills every string inside a JSON value, so that escapes stay right. */
function fillJSON(value) {
  if (typeof value === "string") return fill(value);
  if (Array.isArray(value)) return value.map(fillJSON);
  return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, fillJSON(v)]));
}

const xml = (s) => s.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");

/** The same grammar as a property list, the form that Sublime Text reads. */
function plist(value) {
  if (typeof value === "string") return `<string>${xml(value)}</string>`;
  if (Array.isArray(value)) return `<array>${value.map(plist).join("\n")}</array>`;
  const entries = Object.entries(value).map(([k, v]) => `<key>${xml(k)}</key>${plist(v)}`);
  return `<dict>${entries.join("\n")}</dict>`;
}

const grammar = fillJSON(JSON.parse(read("templates/ohmstead.tmLanguage.json")));
const files = {
  "ohmstead.tmLanguage.json": JSON.stringify(grammar, null, 2) + "\n",
  "../sublime/ohmstead.tmLanguage": `<?xml version="1.0" encoding="UTF-8"?>\n<plist version="1.0">${plist(grammar)}</plist>\n`,
  "../vim/syntax/ohmstead.vim": fill(read("templates/ohmstead.vim")),
  "../emacs/ohmstead-words.el": fill(read("templates/ohmstead-words.el")),
  "../kate/ohmstead.xml": fill(read("templates/ohmstead.xml")),
};

const check = process.argv.includes("--check");
let stale = 0;
for (const [name, text] of Object.entries(files)) {
  const file = path.join(here, name);
  if (check) {
    if (!fs.existsSync(file) || fs.readFileSync(file, "utf8") !== text) {
      console.error(`stale: editors/${path.relative(path.dirname(here), file)}; run "npm run build" in editors/grammar`);
      stale++;
    }
    continue;
  }
  fs.mkdirSync(path.dirname(file), { recursive: true });
  fs.writeFileSync(file, text);
}
process.exit(stale ? 1 : 0);
