// Drives the packaged extension in VS Code's own code, in Chromium.
//
//   OHMSTEAD_BIN=…/ohmstead node run.mjs CODE_SERVER_DIR PLAN_DIR OUT_DIR [first]
//
// With "first" it makes first plans, by what the editor offers in an empty file and by the
// walkthrough's questions, in place of trying all features. OHMSTEAD_VSIX is a package of the
// extension with the program in it; without it, it is ohmstead.vsix, told where the program is.
//
// CODE_SERVER_DIR is what setup.sh made, PLAN_DIR a copy of
// editors/testdata/broken (it is written to), OUT_DIR takes the pictures and
// the logs. Each step prints a line "ok: …" or "FAIL: …"; the exit code is 1
// when one failed.
import { spawn, spawnSync } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath } from "node:url";

const [codeServer, plan, out] = process.argv.slice(2, 5).map((p) => path.resolve(p));
const part = process.argv[5];
const packed = process.env.OHMSTEAD_VSIX;
const program = process.env.OHMSTEAD_BIN;
if (!out || !program) {
  console.error("usage: OHMSTEAD_BIN=PROGRAM node run.mjs CODE_SERVER_DIR PLAN_DIR OUT_DIR");
  process.exit(2);
}
// onPath is where a program is found, as a shell would find it.
function onPath(name) {
  const places = (process.env.PATH ?? "").split(path.delimiter).map((dir) => path.join(dir, name));
  return places.find((place) => fs.existsSync(place)) ?? name;
}

const root = path.join(path.dirname(fileURLToPath(import.meta.url)), "..");
const entry = path.join(codeServer, "node_modules/code-server/out/node/entry.js");
const { chromium } = createRequire(path.join(codeServer, "package.json"))("playwright-core");
const began = Date.now();
const profile = path.join(out, "profile");
fs.rmSync(profile, { recursive: true, force: true });
fs.mkdirSync(path.join(profile, "User"), { recursive: true });
fs.writeFileSync(path.join(profile, "User/settings.json"), JSON.stringify({
  ...(packed ? {} : { "ohmstead.server.path": path.resolve(program), "ohmstead.trace.server": "messages" }),
  "security.workspace.trust.enabled": false,
  "workbench.startupEditor": "none",
  "workbench.colorTheme": "Default Light Modern",
  "editor.minimap.enabled": false,
  "editor.fontFamily": "DejaVu Sans Mono",
  "editor.hover.delay": 100,
  "editor.lightbulb.enabled": "on",
  "files.autoSave": "off",
  "telemetry.telemetryLevel": "off",
}));

let failed = false;

async function step(name, run) {
  try {
    const shown = await run();
    console.log(`ok: ${name}${shown ? ": " + shown.replace(/\s*\n\s*/g, " | ") : ""}`);
  } catch (problem) {
    failed = true;
    console.log(`FAIL: ${name}: ${String(problem.message ?? problem).split("\n").slice(0, 4).join(" | ")}`);
  }
  await page?.screenshot({ path: path.join(out, name.replace(/\W+/g, "-") + ".png") }).catch(() => undefined);
}

// How long to wait for what must come: long, as a loaded machine is no failure.
const patience = Number(process.env.PATIENCE ?? 600_000);

/** Looks again until there is an answer. */
async function await_(what, look) {
  for (const end = Date.now() + patience; Date.now() < end; ) {
    const answer = await look();
    if (answer) return answer;
    await page.waitForTimeout(100);
  }
  throw new Error(`waited in vain for ${what}`);
}

const freePort = () =>
  new Promise((resolve) => {
    const server = net.createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });

/** Nothing else can go well when this step fails. */
async function must(name, run) {
  await step(name, run);
  if (failed) throw new Error(`gave up after "${name}"`);
}

const places = ["--user-data-dir", profile, "--extensions-dir", path.join(profile, "extensions")];
// VSCODE_CLI keeps it from asking a login shell for another environment.
const env = { ...process.env, VSCODE_CLI: "1" };

let page;
await must("install", () => {
  const vsix = packed ?? path.join(root, "ohmstead.vsix");
  if (!fs.existsSync(vsix)) throw new Error('no ohmstead.vsix: run "npm run package" first');
  const run = spawnSync(process.execPath, [entry, ...places, "--install-extension", vsix], { env, encoding: "utf8" });
  if (run.status !== 0) throw new Error(run.stderr + run.stdout);
  return run.stdout.trim().split("\n").pop();
});

const port = await freePort();
const log = fs.openSync(path.join(out, "code-server.log"), "w");
const server = spawn(
  process.execPath,
  [entry, ...places, "--auth", "none", "--bind-addr", `127.0.0.1:${port}`, "--disable-telemetry", "--disable-update-check", plan],
  { env, stdio: ["ignore", log, log] },
);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? onPath("chromium"), args: ["--no-sandbox"] });

// The editor drops a question when the cursor moves, the text changes or the
// file is saved before the answer is there, and a key that comes while a box
// opens or closes goes astray. So a step waits until what it did is seen on the
// screen, and asks once.
const box = () => page.locator(".quick-input-widget:visible");

/** Opens a box with a key, fills it in, and waits until it is closed. */
async function answer(key, text, ready) {
  await page.keyboard.press(key);
  await box().locator("input").first().waitFor();
  await page.keyboard.type(text);
  await ready?.();
  await page.keyboard.press("Enter");
  await box().waitFor({ state: "hidden" });
}

/** Puts the cursor on a place, which also brings it on the screen: only that is drawn. */
async function go(line, column) {
  await page.keyboard.press("Escape");
  await answer("Control+g", `${line}:${column}`);
  const selection = page.locator('.statusbar-item[id="status.editor.selection"]');
  await await_(`the cursor at ${line}:${column}`, async () => (await selection.innerText()).trim() === `Ln ${line}, Col ${column}`);
  await page.locator(".monaco-editor.focused").first().waitFor();
}

/** Runs a command of the editor by its name in the palette. */
async function command(name) {
  await answer("F1", name, () => box().locator(".monaco-list-row.focused", { hasText: name }).waitFor());
}

const file = path.join(plan, "porch.ohm.hcl");
const text = () => fs.readFileSync(file, "utf8");
const lineOf = (needle) => text().split("\n").findIndex((l) => l.includes(needle)) + 1;
const unsaved = () => page.locator(".tab.active.dirty");

/** Waits for a change of the text, and saves it. */
async function saveChange() {
  await unsaved().waitFor();
  await page.keyboard.press("Control+s");
  await unsaved().waitFor({ state: "detached" });
}

/** What the extension shows of a plan with mistakes. */
async function everyFeature() {
  await step("colours", async () => {
    await go(lineOf('wire "feed"'), 1);
    const spans = page.locator(".view-line", { hasText: "16 AWG" }).locator("span > span");
    return await await_("a unit in a colour of its own", async () => {
      const all = await spans.evaluateAll((list) => list.map((s) => [s.textContent, getComputedStyle(s).color]));
      const colour = (word) => all.find(([t]) => t.trim() === word)?.[1];
      return colour("AWG") && colour("wire") && colour("AWG") !== colour("wire") && `wire ${colour("wire")}, AWG ${colour("AWG")}`;
    });
  });

  await step("squiggle", async () => {
    await go(lineOf("length = 1.2"), 12);
    await await_("a squiggle", () => page.locator(".squiggly-error").first().isVisible());
    return "an error is underlined";
  });

  await step("problem", async () => {
    await command("Problems: Focus on Problems View");
    const rows = page.locator(".markers-panel .monaco-list-row");
    const found = await await_("the problem of 1.2", async () =>
      (await rows.allInnerTexts()).find((t) => t.includes("1.2")));
    await page.keyboard.press("Control+j");
    return found;
  });

  await step("completion", async () => {
    const line = lineOf("wire   = wire.feed");
    await page.locator(".monaco-editor .view-lines").first().click();
    await go(line, "  wire   = wire.feed".length + 1);
    for (let i = 0; i < "feed".length; i++) await page.keyboard.press("Backspace");
    await page.keyboard.press("Control+Space");
    const list = page.locator(".suggest-widget.visible .monaco-list-row");
    const names = await await_("a list with feed and data", async () => {
      const rows = await list.allInnerTexts();
      return rows.some((r) => r.startsWith("feed")) && rows.some((r) => r.startsWith("data")) && rows;
    });
    await page.screenshot({ path: path.join(out, "completion-list.png") });
    await page.keyboard.press("Escape");
    await list.first().waitFor({ state: "hidden" });
    await page.keyboard.type("feed");
    await page.keyboard.press("Escape"); // the list that typing opens
    await saveChange();
    if (!text().includes("wire   = wire.feed")) throw new Error("the line did not come back");
    return names.map((n) => n.split("\n")[0]).join(", ");
  });

  await step("light bulb", async () => {
    await go(lineOf("length = 1.2"), 12);
    await await_("a light bulb", () => page.locator('[class*="codicon-light-bulb"], [class*="codicon-lightbulb"], [class*="codicon-gutter-lightbulb"]').first().isVisible());
    return "shown at the number";
  });

  await step("quick fix", async () => {
    const menu = page.locator(".action-widget .monaco-list-row.action");
    await page.keyboard.press("Control+.");
    await menu.first().waitFor();
    const titles = (await menu.allInnerTexts()).map((t) => t.trim());
    await page.screenshot({ path: path.join(out, "quick-fix-menu.png") });
    const wanted = titles.findIndex((t) => /1\.2 m("|$)/.test(t));
    if (wanted < 0) throw new Error("offered: " + titles.join("; "));
    // The first one has the focus.
    for (let i = 0; i < wanted; i++) await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await saveChange();
    if (!text().includes('length = "1.2 m"')) throw new Error("the line is not mended");
    await await_("the last squiggle to go", async () => !(await page.locator(".squiggly-error").first().isVisible()));
    return titles.join("; ");
  });

  await step("hover", async () => {
    await go(lineOf('run "arch"'), 2);
    await command("Show or Focus Hover");
    const shown = await await_("the voltage and the pixels of run.arch", async () => {
      const all = await page.locator(".monaco-hover:visible").allInnerTexts();
      return all.find((t) => /\d V/.test(t) && t.includes("216"));
    });
    const picture = page.locator(".monaco-hover:visible img[src^='data:image/svg+xml']");
    await await_("the picture of its voltage", () => picture.evaluate((img) => img.complete && img.naturalWidth > 0));
    return shown;
  });

  await step("hints", async () => {
    await go(lineOf('run "arch"'), 2);
    const hints = page.locator(".view-line span[class*=dyn-rule]");
    return await await_("inlay hints", async () => {
      const all = (await hints.allInnerTexts()).map((t) => t.trim()).filter(Boolean);
      return all.length > 0 && all.slice(0, 8).join("; ");
    });
  });

  await step("format", async () => {
    await page.keyboard.press("Control+Shift+i");
    await saveChange();
    if (!text().includes("\n  to     = controller.brain.power\n")) throw new Error("lead.board is not in columns");
    return "lead.board is in columns";
  });

  await step("catalogue", async () => {
    await go(lineOf("catalog.ws2815_12v_60"), 'strip "arch" { like = catalog.ws28'.length);
    await page.keyboard.press("F12");
    const tab = page.locator(".tab.active");
    const name = await await_("a tab of the catalogue", async () => {
      const label = (await tab.innerText()).trim();
      return !label.startsWith("porch") && label;
    });
    await await_("the entry", () => page.locator(".view-line", { hasText: "ws2815_12v_60" }).first().isVisible());
    await page.screenshot({ path: path.join(out, "catalogue-entry.png") });
    await page.keyboard.press("Control+Alt+Minus"); // back
    await await_("the plan again", async () => (await tab.innerText()).startsWith("porch"));
    return name;
  });

  await step("rename", async () => {
    await go(lineOf('wire "feed"'), 'wire "fe'.length);
    await page.keyboard.press("F2");
    const name = page.locator(".rename-box input");
    await name.waitFor();
    await name.fill("thick");
    await name.press("Enter");
    await saveChange();
    if (!(text().includes("wire.thick") && text().includes('wire "thick"') && !text().includes("feed"))) {
      throw new Error("not renamed everywhere");
    }
    return "in both places";
  });

  await step("live page", async () => {
    await page.locator(".monaco-editor .view-lines").first().click();
    await go(lineOf('run "arch"'), 2);
    await command("Ohmstead: Show Plan");
    const frame = await await_("the page in a panel", async () => {
      for (const f of page.frames()) {
        if ((await f.locator("h1#title").count().catch(() => 0)) > 0) return f;
      }
    });
    await frame.locator(".card h2", { hasText: "run.arch" }).waitFor(); // it follows the cursor
    const sum = await frame.locator("#sum").innerText();
    await page.screenshot({ path: path.join(out, "live-page-panel.png") });
    await go(lineOf('lead "left"'), 2);
    await frame.locator(".card h2", { hasText: "lead.left" }).waitFor();
    await frame.locator(".card h2 button").click(); // a click jumps to the line
    await await_("the text in front", async () => (await page.locator(".tab.active").first().innerText()).startsWith("porch"));
    return sum;
  });
}

const first = path.join(plan, "first", "plan.ohm.hcl");
if (part === "first") { // before the editor opens the folder: what comes while it begins to watch it may not be seen
  fs.rmSync(path.dirname(first), { recursive: true, force: true });
  fs.mkdirSync(path.dirname(first));
  fs.writeFileSync(first, "");
}

/** A first plan, from an empty file to "nothing found": only what the editor offers is taken. */
async function firstPlan() {
  let typed = 0;
  const type = async (s) => {
    typed += s.length;
    await page.keyboard.type(s);
  };
  const told = () => fs.readFileSync(first, "utf8");
  const suggested = page.locator(".suggest-widget.visible .monaco-list-row");

  /** Takes what is called so from the list of proposals. */
  async function take(name) {
    await suggested.first().waitFor();
    const focused = page.locator(".suggest-widget.visible .monaco-list-row.focused .label-name");
    for (let i = 0; (await focused.first().innerText()).trim() !== name; i++) { // only what is on the screen is drawn
      if (i > 200) throw new Error(`${name} is not in the list`);
      await page.keyboard.press("ArrowDown");
    }
    await page.screenshot({ path: path.join(out, `first-${name.replace(/\W+/g, "-")}.png`) });
    await page.keyboard.press("Enter");
    await suggested.first().waitFor({ state: "hidden" });
  }

  /** Takes an action of the light bulb where the cursor is. */
  async function act(title) {
    const menu = page.locator(".action-widget .monaco-list-row.action");
    const titles = await await_(title, async () => {
      if (!(await menu.first().isVisible())) {
        await page.keyboard.press("Control+.");
        await menu.first().waitFor({ timeout: 5000 }).catch(() => undefined);
      }
      const all = (await menu.allInnerTexts()).map((t) => t.trim());
      if (all.some((t) => t.startsWith(title))) return all;
      await page.keyboard.press("Escape");
    });
    await page.screenshot({ path: path.join(out, `first-${title.replace(/\W+/g, "-").slice(0, 30)}.png`) });
    for (let i = titles.findIndex((t) => t.startsWith(title)); i > 0; i--) await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await saveChange();
    return titles.join("; ");
  }

  await step("first plan block", async () => {
    await page.locator(".explorer-folders-view >> text=first").click();
    await page.locator(".explorer-folders-view >> text=plan.ohm.hcl").dblclick();
    await await_("the empty file", async () => (await page.locator(".tab.active").first().innerText()).startsWith("plan.ohm.hcl"));
    await page.locator(".monaco-editor .view-lines").first().click();
    const titles = await act("Add a plan block");
    await go(2, 1);
    await page.keyboard.press("End");
    await page.keyboard.press("Enter");
    await type("m");
    await take("mains");
    await page.keyboard.press("Escape");
    await saveChange();
    return `${titles} | ${told()}`;
  });

  await step("first run", async () => {
    await page.keyboard.press("Control+End");
    await page.keyboard.press("Enter");
    await type("run");
    await take("run");
    await page.keyboard.press("Tab"); // its name stays as it is proposed
    await page.keyboard.press("Delete");
    await page.keyboard.press("Control+Space");
    await take("catalog.ws2812b_5v_60");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    await saveChange();
    return told();
  });

  await step("first draft", async () => {
    await go(told().split("\n").findIndex((l) => l.startsWith("run ")) + 1, 2);
    const titles = await act("Write a first supply");
    await await_("nothing found", async () => {
      const run = spawnSync(process.env.OHMSTEAD_BIN, ["check", path.dirname(first)], { encoding: "utf8" });
      return run.status === 0 && run.stdout.includes("nothing found");
    });
    await await_("no squiggle", async () => (await page.locator(".squiggly-error, .squiggly-warning").count()) === 0);
    await page.keyboard.press("Control+Home");
    return `nothing found in ${told().split("\n").length} lines, ${typed} characters typed; offered: ${titles}`;
  });
}

/** A plan by the walkthrough and its questions. */
async function walkthrough() {
  const question = (about) => box().locator(".quick-input-message, .quick-input-title, input").filter({ hasText: about }).first();
  const input = box().locator("input").first();
  const rows = box().locator(".monaco-list-row");

  /** Answers a question for a text. */
  async function write(about, text) {
    await input.fill(text); // what is wrong with a text stands in place of the question
    await question(about).waitFor();
    await page.screenshot({ path: path.join(out, `question-${about.replace(/\W+/g, "-")}.png`) });
    await page.keyboard.press("Enter");
    await question(about).waitFor({ state: "hidden" });
  }

  /** Picks an answer from a list. */
  async function pick(about, label) {
    await box().locator(`input[placeholder*="${about}"]`).waitFor();
    await page.screenshot({ path: path.join(out, `question-${about.replace(/\W+/g, "-")}.png`) });
    await rows.filter({ hasText: label }).first().click();
    await box().locator(`input[placeholder*="${about}"]`).waitFor({ state: "hidden" });
  }

  await step("walkthrough", async () => {
    await page.keyboard.press("F1");
    await input.waitFor();
    await page.keyboard.type("Welcome: Open Walkthrough");
    await rows.filter({ hasText: "Open Walkthrough" }).first().click();
    await rows.filter({ hasText: "A first plan with Ohmstead" }).first().click();
    const step = (title) => page.locator(".getting-started-step", { hasText: title });
    await step("Find the program").waitFor();
    await step("Find the program").locator(".monaco-button", { hasText: "Look for it" }).click();
    await await_("the program found", () => step("Find the program").locator(".complete").first().isVisible());
    await step("Answer five questions").click();
    await page.locator(".getting-started-step.expanded", { hasText: "Answer five questions" }).waitFor();
    return (await page.locator(".getting-started-step").allInnerTexts()).join("; ");
  });

  await step("new plan by questions", async () => {
    await page.locator(".getting-started-step.expanded .monaco-button", { hasText: "New Plan" }).click();
    await question("Its name").waitFor();
    await input.fill("2nd shelf");
    await await_("what is wrong with the name", () => question("A letter first").isVisible());
    await write("Its name", "shelf");
    await question("How long").waitFor();
    await input.fill("6");
    await await_("what is wrong with the length", () => question("its unit").isVisible());
    await write("How long", "3.6 m");
    await pick("Which voltage", "12 V");
    await pick("Which strip", "ws2815_12v_60");
    await pick("What comes out of the wall", "230 V");
    const tab = page.locator(".tab.active");
    await await_("the plan", async () => (await tab.innerText()).startsWith("plan.ohm.hcl"));
    await page.locator(".monaco-editor .view-line").first().waitFor();
    const run = spawnSync(program, ["check", path.join(plan, "shelf")], { encoding: "utf8" });
    if (run.status !== 0 || !run.stdout.includes("nothing found")) throw new Error(run.stdout + run.stderr);
    await await_("the lens of a sound plan", () => page.locator(".codelens-decoration", { hasText: "nothing found" }).first().isVisible());
    return run.stdout.trim();
  });

  await step("a plan that is there already", async () => {
    await page.keyboard.press("F1");
    await input.fill(">Ohmstead: New Plan");
    await rows.filter({ hasText: "New Plan" }).first().click();
    await question("Its name").waitFor();
    await input.fill("shelf");
    await await_("that it is there", () => question("shelf has a plan already").isVisible());
    await page.keyboard.press("Escape");
    await box().waitFor({ state: "hidden" });
  });

  if (packed) {
    await step("the program of the package", async () => {
      await command("Ohmstead: Show Server Output");
      const line = page.locator(".output-view .view-line, .panel .view-line").filter({ hasText: "Starting" }).first();
      await line.waitFor();
      const said = (await line.innerText()).replace(/\u00a0/g, " ");
      if (!/extensions.ohmstead.ohmstead-.*bin.ohmstead/.test(said)) throw new Error(said);
      return said.replace(profile, "");
    });
  }
}

try {
  page = await browser.newPage({ viewport: { width: 1280, height: 860 } });
  page.setDefaultTimeout(patience);
  await must("open", async () => {
    await await_("code-server", () =>
      page.goto(`http://127.0.0.1:${port}/?folder=${encodeURIComponent(plan)}`, { waitUntil: "commit" }).catch(() => undefined));
    await page.locator(".explorer-folders-view").waitFor();
    await page.locator(".explorer-folders-view >> text=porch.ohm.hcl").dblclick();
    await page.locator(".monaco-editor .view-line").first().waitFor();
    const mode = page.locator('.statusbar-item[id="status.editor.mode"]');
    return await await_("the language", async () => {
      const name = (await mode.innerText()).trim();
      return name === "Ohmstead plan" && "language " + name;
    });
  });

  if (part === "first") {
    await firstPlan();
    await walkthrough();
  } else {
    await everyFeature();
  }
} catch (problem) {
  failed = true;
  console.log(String(problem.message));
} finally {
  await browser.close();
  server.kill();
}
console.log(`${failed ? "failed" : "passed"} after ${((Date.now() - began) / 1000).toFixed(0)} s`);
process.exit(failed ? 1 : 0);
