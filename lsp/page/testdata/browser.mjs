// Drives the live page in Chromium.
//
//   OHMSTEAD_BIN=…/ohmstead node browser.mjs DIR OUT
//
// DIR holds playwright-core (editors/vscode/test/setup.sh makes such a folder),
// OUT takes plans and pictures. Each step prints a line "ok: …" or "FAIL: …";
// the exit code is 1 when one failed. Times are printed, and fail nothing.
import { spawn } from "node:child_process";
import fs from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath } from "node:url";

const [dir, out] = process.argv.slice(2).map((p) => path.resolve(p));
const program = process.env.OHMSTEAD_BIN;
if (!out || !program) {
  console.error("usage: OHMSTEAD_BIN=PROGRAM node browser.mjs DIR OUT");
  process.exit(2);
}
const { chromium } = createRequire(path.join(dir, "package.json"))("playwright-core");
const demos = path.join(path.dirname(fileURLToPath(import.meta.url)), "../../../testdata/plans");
const onPath = (name) =>
  (process.env.PATH ?? "").split(path.delimiter).map((d) => path.join(d, name)).find((p) => fs.existsSync(p)) ?? name;

// A wall of 55 runs with 182 pixels each, 10,010 together.
const wall = `plan "wall" { title = "Ten thousand pixels" }
strip "row" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "10 AWG" }
surface "wall" {
  width  = "3.2 m"
  height = "2.9 m"
}
supply "brick" {
  output = "12 V"
  rating = "60 A"
}
run "row" {
  strip   = strip.row
  on      = surface.wall
  times   = 55
  through = [["5 cm", "10 cm"], ["308.5 cm", "10 cm"]]
  shift   = ["0 cm", "5 cm"]
}
lead "row" {
  times  = 55
  from   = supply.brick.out
  to     = run.row-each.start
  wire   = wire.feed
  length = "1 m"
}
order "all" { runs = [run.row-all] }
`;

const hostile = `<script>window.bad = 1</script><img src=x onerror="window.bad = 1">\u202e${"x".repeat(10_000)}`;

fs.mkdirSync(out, { recursive: true });
function plan(name, text) {
  fs.mkdirSync(path.join(out, name), { recursive: true });
  const file = path.join(out, name, "plan.ohm.hcl");
  fs.writeFileSync(file, text);
  return file;
}

const began = Date.now();
let failed = false;
async function step(name, run) {
  try {
    const shown = await run();
    console.log(`ok: ${name}${shown ? ": " + shown : ""}`);
  } catch (problem) {
    failed = true;
    console.log(`FAIL: ${name}: ${String(problem.message ?? problem).split("\n").slice(0, 4).join(" | ")}`);
  }
}
function must(ok, what) {
  if (!ok) throw new Error(what);
}

const children = [];
/** Starts the command on a plan, and gives the page's address. */
function view(file) {
  const child = spawn(program, ["view", file], { stdio: ["ignore", "pipe", "inherit"] });
  children.push(child);
  child.ended = new Promise((resolve) => child.on("exit", resolve));
  return new Promise((resolve, reject) => {
    child.on("exit", (code) => reject(new Error(`view ended with ${code}`)));
    child.stdout.on("data", (text) => {
      const address = /http:\S+/.exec(text);
      if (address) resolve({ child, address: address[0] });
    });
  });
}

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? onPath("chromium"), args: ["--no-sandbox"] });
/** Opens a page, and notes everything that it complains of. */
async function open(address, more = {}) {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, ...more });
  page.setDefaultTimeout(120_000);
  page.complaints = [];
  page.on("console", (m) => ["error", "warning"].includes(m.type()) && page.complaints.push(m.text()));
  page.on("pageerror", (e) => page.complaints.push(String(e)));
  page.on("dialog", (d) => page.complaints.push("a dialog: " + d.message()) && d.dismiss());
  page.on("request", (r) => r.url().startsWith(address) || page.complaints.push("it asks for " + r.url()));
  await page.addInitScript(() => document.addEventListener("securitypolicyviolation", (e) => console.error("policy: " + e.violatedDirective)));
  await page.goto(address);
  await page.waitForFunction(() => document.querySelector(".findings summary") && document.documentElement.dataset.seen > 0);
  return page;
}
const picture = (page) => page.evaluate(() => ["ground", "light"].map((id) => document.getElementById(id).toDataURL()).join());

try {
  const file = plan("eave", fs.readFileSync(path.join(demos, "eave/plan.ohm.hcl"), "utf8"));
  const { child, address } = await view(file);
  const page = await open(address);

  await step("a file is edited and the picture changes", async () => {
    const text = fs.readFileSync(file, "utf8");
    const times = [];
    for (let n = 0; n < 6; n++) {
      const before = await picture(page);
      const drawn = page.evaluate(() => new Promise((resolve, reject) => {
        setTimeout(() => reject(new Error("nothing is drawn after 20 s")), 20_000);
        const watch = new MutationObserver(() => (watch.disconnect(), requestAnimationFrame(() => resolve(performance.timeOrigin + performance.now()))));
        watch.observe(document.documentElement, { attributes: true, attributeFilter: ["data-seen"] });
      }));
      await page.waitForTimeout(100);
      fs.writeFileSync(file, n % 2 === 0 ? text.replace('"2.5 mm2"', '"1 mm2"') : text);
      const saved = Date.now();
      times.push(Math.round((await drawn) - saved));
      await page.waitForTimeout(150);
      must((await picture(page)) !== before, "the picture is the same");
    }
    return `drawn ${times.join(", ")} ms after the save`;
  });

  await step("everything by the keyboard alone", async () => {
    await page.keyboard.press("]");
    const title = await page.locator(".card h2").innerText();
    must(title.startsWith("run.eave-1"), `] selects ${title}`);
    const cases = page.locator("#cases input");
    const [held, next] = [cases.nth(1), cases.nth(2 % (await cases.count()))];
    must(await held.isChecked(), "it does not open in the case that the ceilings allow");
    await page.keyboard.press("c");
    must(await next.isChecked(), "c does not go to the next case");
    await page.keyboard.press("w");
    await page.locator("#banner:visible").waitFor();
    const said = await page.locator("#banner").innerText();
    await page.keyboard.press("Escape");
    await page.locator("#banner").waitFor({ state: "hidden" });
    const before = await picture(page);
    for (const key of ["+", "+", "0", "?", "Escape", "o", ".", ","]) await page.keyboard.press(key);
    await page.waitForTimeout(100);
    must((await picture(page)) === before, "closer, closer and fit is not where it began");
    const where = await page.locator(".where").innerText();
    must(where.startsWith("Pixel "), `the dot is at ${where}`);
    return said;
  });

  for (const [name, size, scheme] of [["light", [1280, 800], "light"], ["dark", [1600, 1000], "dark"], ["small", [390, 760], "light"]]) {
    await step(`picture ${name}`, async () => {
      const other = await open(address, { viewport: { width: size[0], height: size[1] }, colorScheme: scheme });
      const over = await other.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      must(over <= 0, `${over} px wider than the window`);
      await other.screenshot({ path: path.join(out, name + ".png") });
      await other.close();
    });
  }

  await step("hostile text is text", async () => {
    fs.writeFileSync(file, `plan "x" { title = ${JSON.stringify(hostile)} }\nrun ${JSON.stringify("a" + hostile.slice(0, 60))} {}\n`);
    await page.waitForFunction(() => document.querySelector("h1").textContent.includes("window.bad"));
    must((await page.evaluate(() => document.querySelector("h1").textContent)) === hostile, "the title is another one");
    must(!(await page.evaluate(() => window.bad)), "the title ran");
    must((await page.evaluate(() => document.querySelector("h1").children.length)) === 0, "the title became elements");
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    must(over <= 0, `${over} px wider than the window`);
    await page.screenshot({ path: path.join(out, "hostile.png") });
  });

  await step("it loads nothing from elsewhere and breaks no policy", () => must(page.complaints.length === 0, page.complaints.join("; ")));

  await step("it says when the command has ended", async () => {
    child.kill("SIGINT");
    const code = await child.ended;
    must(code === 0, `the command ended with ${code}`);
    await page.waitForFunction(() => /has ended/.test(document.getElementById("status").textContent));
    await page.close();
  });

  await step("ten thousand pixels while the dot runs", async () => {
    const { address } = await view(plan("wall", wall));
    const page = await open(address);
    must(/10010 pixels/.test(await page.locator("#sum").innerText()), "not that many pixels");
    const cdp = await page.context().newCDPSession(page);
    await cdp.send("Performance.enable", { timeDomain: "threadTicks" }); // of this page alone, whatever else the machine does
    const metrics = async () => Object.fromEntries((await cdp.send("Performance.getMetrics")).metrics.map((m) => [m.name, m.value]));
    const count = () => page.evaluate((n) => new Promise((resolve) => {
      const began = performance.now();
      const frame = () => (--n > 0 ? requestAnimationFrame(frame) : resolve(performance.now() - began));
      requestAnimationFrame(frame);
    }), 120);
    const drawn = await page.evaluate(() => document.documentElement.dataset.took);
    await page.keyboard.press(" ");
    await page.waitForTimeout(300);
    const before = await metrics();
    const lasted = await count();
    const after = await metrics();
    const each = (name) => ((1000 * (after[name] - before[name])) / 120).toFixed(2);
    const first = await page.locator(".where").innerText();
    await page.waitForTimeout(300);
    must((await page.locator(".where").innerText()) !== first, "the dot does not move");
    await page.screenshot({ path: path.join(out, "wall.png") });
    must(page.complaints.length === 0, page.complaints.join("; "));
    return `${each("TaskDuration")} ms of the processor a frame for script, style, layout and paint together (script ${each("ScriptDuration")}); ` +
      `${(lasted / 120).toFixed(1)} ms from frame to frame; the whole picture takes ${drawn} ms when something changed`;
  });
} finally {
  await browser.close();
  for (const c of children) c.kill();
}
console.log(`${failed ? "failed" : "passed"} after ${((Date.now() - began) / 1000).toFixed(0)} s`);
process.exit(failed ? 1 : 0);
