// Puts the page together: what comes from the program goes into the model, what
// the user does changes what is drawn.
import { Camera } from "./camera.js";
import { make } from "./dom.js";
import { Dot } from "./dot.js";
import { drawGround, drawLight, inks, scaleBar, sized, Strokes } from "./draw.js";
import { bindKeys } from "./keys.js";
import { jump, listen, pattern } from "./link.js";
import { Model } from "./model.js";
import { Panel } from "./panel.js";
import { volts, words } from "./words.js";

const $ = (id) => document.getElementById(id);
const model = new Model();
const camera = new Camera();
const stage = $("stage");

let ink = inks();
let strokes = null;
let chosen = "";
let pointed = "";
let follows = true;
let waiting = false; // a drawing is due
const due = new Set(); // of "ground", "light"
let seen = 0; // number of the change that is drawn next

// --- drawing

function redraw(...what) {
  for (const w of what) due.add(w);
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(paint);
}

function paint() {
  waiting = false;
  const began = performance.now();
  const ramp = model.get("scale")?.ramp ?? [];
  if (due.has("ground")) drawGround($("ground"), model, camera, ink, chosen);
  if (due.has("light")) drawLight($("light"), model, camera, ink, ramp, strokes, chosen, pointed);
  if (due.has("ground")) zoomBar();
  due.clear();
  dot.draw();
  const root = document.documentElement.dataset;
  root.seen = String(seen);
  root.took = (performance.now() - began).toFixed(1);
}

function recolour() {
  model.colour();
  strokes = new Strokes(model);
  legend();
  redraw("light");
}

function resize() {
  const box = stage.getBoundingClientRect();
  [camera.width, camera.height] = [Math.max(1, box.width), Math.max(1, box.height)];
  if (!camera.touched) camera.fit(model.box);
  dot.resize();
  redraw("ground", "light");
}

// --- what the user does

const act = {
  chosen: () => chosen,
  select(id, reveal = true) {
    chosen = id;
    awaited = "";
    if (reveal) show(id);
    panel.selected();
    for (const e of document.querySelectorAll("[data-key]")) {
      if (e.classList.contains("item")) e.setAttribute("aria-pressed", String(e.dataset.key === id));
    }
    redraw("ground", "light");
  },
  jump(id) {
    const at = model.get("places")?.[id];
    if (at) act.goTo(at);
  },
  goTo: (at) => model.head.jumps && jump(at),
  async worst(id) {
    if (model.pattern?.of === id || !id) return act.light(null);
    const runs = await pattern(id);
    act.light(Object.keys(runs).length > 0 ? { of: id, runs } : null);
    if (!model.pattern) banner(words.pattern_none(id));
  },
  light(p) {
    model.pattern = p;
    let [lit, all] = [0, 0];
    for (const r of Object.values(p?.runs ?? {})) for (const s of r.shares) [lit, all] = [lit + (s > 0), all + 1];
    banner(p ? words.pattern(p.of, lit, all) : "");
    recolour();
    panel.selected();
  },
  chooseCase(i) {
    model.caseIndex = i;
    model.pattern = null;
    banner("");
    cases();
    recolour();
    panel.selected();
    panel.lists();
  },
  look(id, k) {
    const run = model.run(id);
    const i = model.at(run, k);
    tip(camera.sx(model.line[i]), camera.sy(model.line[i + 1]), words.reading(k, volts(model.volts(id)?.[k] ?? 0)), true);
  },
  follow(id) {
    dot.follow(id);
    panel.orders();
  },
  speed(v) {
    dot.speed = v;
  },
  run(by) {
    const ids = model.runs.map((r) => r.id);
    if (ids.length > 0) act.select(ids[(ids.indexOf(chosen) + by + (chosen === "" && by < 0 ? 1 : 0) + ids.length) % ids.length]);
  },
  nextCase: () => act.chooseCase((model.caseIndex + 1) % Math.max(1, model.head.cases.length)),
  nextOrder() {
    const ids = model.head.orders;
    if (ids.length > 0) act.follow(ids[(ids.indexOf(dot.order) + 1) % ids.length]);
  },
  faster(by) {
    dot.speed = Math.min(1024, Math.max(1, dot.speed * by));
    panel.orders();
  },
  escape() {
    if (model.pattern) act.light(null);
    else act.select("");
  },
  move(dx, dy) {
    camera.pan(dx, dy);
    redraw("ground", "light");
  },
  zoom(factor, x, y) {
    camera.zoom(factor, x, y);
    redraw("ground", "light");
  },
  fit() {
    camera.fit(model.box);
    redraw("ground", "light");
  },
  toFindings: () => document.querySelector(".findings button, .findings summary")?.focus(),
  keys() {
    if (!$("keys").open) $("keys").showModal();
  },
  dot: null,
};

/** Brings a thing into sight if it is not. */
function show(id) {
  const run = model.run(id);
  const t = model.get("thing", id);
  const l = model.get("lead", id)?.ends;
  const at = [];
  if (run) for (let i = run.at; i <= run.at + 4 * run.count; i += 2) at.push([model.line[i], model.line[i + 1]]);
  else if (t?.at) at.push(model.place(t.frame, t.at[0], t.at[1]));
  else if (l) at.push(model.place(l.frame, l.line[0], l.line[1]), model.place(l.frame, l.line[2], l.line[3]));
  if (at.length === 0 || !at[0]) return;
  const side = (pick, n) => at.reduce((x, p) => pick(x, p[n]), at[0][n]);
  camera.reveal(side(Math.min, 0), side(Math.min, 1), side(Math.max, 0), side(Math.max, 1));
}

const dot = new Dot($("dot"), model, camera, (changed) => {
  if (changed) panel.orders();
  else if (performance.now() - said > 100) {
    said = performance.now();
    panel.moved();
  }
});
let said = 0;
dot.ink = ink;
act.dot = dot;
const panel = new Panel($("panel"), model, act);

// --- the pointer

/** The run and pixel under a place of the screen, or the thing or lead there. */
function under(sx, sy) {
  for (const id of model.head.things) {
    const t = model.get("thing", id);
    const at = t?.at && model.place(t.frame, t.at[0], t.at[1]);
    if (at && Math.hypot(camera.sx(at[0]) - sx, camera.sy(at[1]) - sy) < 12) return { id };
  }
  const [x, y] = [sx / camera.k + camera.x, sy / camera.k + camera.y];
  let [best, found] = [(12 / camera.k) ** 2, null];
  for (const run of model.runs) {
    for (let k = 0; k < run.count; k++) {
      const i = model.at(run, k);
      const d = (model.line[i] - x) ** 2 + (model.line[i + 1] - y) ** 2;
      if (d < best) [best, found] = [d, { id: run.id, pixel: k }];
    }
  }
  if (found) return found;
  for (const id of model.head.leads) {
    const at = model.get("lead", id)?.ends;
    const a = at && model.place(at.frame, at.line[0], at.line[1]);
    if (!a) continue;
    const b = model.place(at.frame, at.line[2], at.line[3]);
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
    if (Math.hypot(a[0] + t * dx - x, a[1] + t * dy - y) * camera.k < 7) return { id };
  }
  return null;
}

function tip(x, y, text, still = false) {
  const e = $("tip");
  e.hidden = !text;
  if (!text) return;
  e.textContent = text;
  const w = Math.min(camera.width - 8, e.offsetWidth);
  e.style.left = `${Math.max(4, Math.min(camera.width - w - 4, x + 14))}px`;
  e.style.top = `${y > camera.height - 60 || still ? Math.max(4, y - 36) : y + 16}px`;
}

function pointer() {
  const held = new Map(); // pointers that are down
  let moved = 0;
  const local = (e) => {
    const box = stage.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  };
  stage.addEventListener("pointerdown", (e) => {
    if (e.target.closest("button")) return;
    stage.setPointerCapture(e.pointerId);
    held.set(e.pointerId, local(e));
    moved = 0;
  });
  stage.addEventListener("pointermove", (e) => {
    const [x, y] = local(e);
    const was = held.get(e.pointerId);
    if (!was) {
      const hit = e.target.closest("button") ? null : under(x, y);
      const id = hit?.id ?? "";
      stage.classList.toggle("hit", id !== "");
      if (model.run(id)?.id !== (pointed || undefined)) {
        pointed = model.run(id) ? id : "";
        redraw("light");
      }
      const v = hit?.pixel === undefined ? undefined : model.volts(id)?.[hit.pixel];
      return tip(x, y, id && (v === undefined ? id : `${id}, ${words.reading(hit.pixel, volts(v))}`));
    }
    moved += Math.abs(x - was[0]) + Math.abs(y - was[1]);
    if (held.size === 2) {
      const other = [...held.entries()].find(([id]) => id !== e.pointerId)[1];
      const apart = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
      act.zoom(apart([x, y]) / apart(was), (x + other[0]) / 2, (y + other[1]) / 2);
    } else if (moved > 4) {
      act.move(x - was[0], y - was[1]);
      stage.classList.add("drag");
    }
    held.set(e.pointerId, [x, y]);
    tip(0, 0, "");
  });
  const up = (e) => {
    if (held.delete(e.pointerId) && moved <= 4 && e.type === "pointerup") act.select(under(...local(e))?.id ?? "", false);
    stage.classList.remove("drag");
  };
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", up);
  stage.addEventListener("pointerleave", () => tip(0, 0, ""));
  stage.addEventListener("dblclick", (e) => {
    const hit = under(...local(e));
    if (hit) act.jump(hit.id);
  });
  stage.addEventListener("wheel", (e) => {
    e.preventDefault();
    act.zoom(2 ** (-e.deltaY * (e.deltaMode === 1 ? 30 : 1) / 400), ...local(e));
  }, { passive: false });
}

// --- what stands around the picture

function banner(text) {
  $("banner").hidden = !text;
  $("banner").textContent = text;
}

function cases() {
  const box = $("cases");
  const focused = box.contains(document.activeElement);
  box.replaceChildren(make("legend", {}, words.cases), ...model.head.cases.map((name, i) => {
    const own = i > 1;
    const radio = make("input", { type: "radio", name: "case", checked: i === model.caseIndex, on: { change: () => act.chooseCase(i) } });
    return make("label", { title: own ? words.tips_of.own : (words.tips_of[name] ?? "") }, radio, make("span", { dir: "auto" }, own ? name : (words.cases_of[name] ?? name)));
  }));
  if (focused) box.querySelector("input:checked")?.focus();
}

function head() {
  const h = model.head;
  const title = h.title || h.name || words.untitled;
  $("title").textContent = title;
  $("title").title = title;
  $("sum").textContent = h.sum ?? "";
  document.title = title;
  cases();
}

function legend() {
  const scale = model.get("scale");
  if (!scale || model.runs.length === 0) return $("legend").replaceChildren();
  const nominals = [...new Set(model.runs.map((r) => model.get("run", r.id).nominal))].sort((a, b) => a - b);
  const ramp = make("canvas", { width: 64, height: 1, className: "ramp" });
  const g = ramp.getContext("2d");
  for (const [i, c] of scale.ramp.entries()) {
    g.fillStyle = c;
    g.fillRect(i, 0, 1, 1);
  }
  const tick = (v) => `${v.toFixed(2)} V`;
  const rows = nominals.slice(0, 3).map((n) => make("p", { className: "ticks" },
    ...[0, 0.5, 1].map((t) => make("span", {}, tick(n * (scale.low + t * (scale.high - scale.low)))))));
  const name = model.pattern ? "any" : model.head.cases[model.caseIndex];
  const shown = words.cases_of[name] ?? name;
  const notes = [["▶", words.first_mark], ["◆", words.least_mark]];
  if (model.short.includes(1)) notes.push(["✕", words.short_mark]);
  $("legend").replaceChildren(make("p", {}, words.legend(shown)), ramp, ...rows,
    make("p", { className: "notes" }, ...notes.map(([m, t]) => make("span", {}, make("b", {}, m), " ", t))));
}

function zoomBar() {
  const bar = scaleBar(camera);
  const line = make("span", { className: "scale" }, bar.text);
  line.style.width = `${bar.pixels}px`;
  const button = (text, title, run) => make("button", { type: "button", title, "aria-label": title, tabIndex: -1, on: { click: run } }, text);
  if ($("zoom").childElementCount === 0) {
    $("zoom").append(line, button("−", words.farther, () => act.zoom(1 / 1.4)), button("+", words.closer, () => act.zoom(1.4)), button("⤢", words.fit, act.fit));
  } else $("zoom").firstElementChild.replaceWith(line);
}

function status(text) {
  $("status").textContent = text;
  $("status").hidden = !text;
}

function still() {
  stage.setAttribute("aria-label", words.stage);
  $("help").textContent = "?";
  $("help").title = words.help;
  $("help").setAttribute("aria-label", words.help);
  $("help").addEventListener("click", act.keys);
  const rows = words.keys.map(([k, what]) => make("tr", {}, make("th", { scope: "row" }, ...k.split(/\s{2,}/).map((x) => make("kbd", {}, x))), make("td", {}, what)));
  const follow = make("label", { className: "follow" }, make("input", { type: "checkbox", checked: follows, on: { change: (e) => (follows = e.target.checked) } }), words.follow);
  $("keys").append(make("h2", {}, words.help), make("table", {}, make("tbody", {}, ...rows)), make("p", {}, words.mouse), follow,
    make("form", { method: "dialog" }, make("button", {}, words.close)));
  $("keys").addEventListener("click", (e) => e.target === $("keys") && $("keys").close());
  status(words.connecting);
}

// --- what comes from the program

let awaited = ""; // where the user is in the editor, if that is not there to be shown yet

/** Shows where the user is in the editor, as soon as it is there. */
function pointTo(id) {
  awaited = "";
  if (model.head.orders.includes(id)) act.follow(id);
  else if (id && (["run", "lead", "thing"].some((k) => model.get(k, id)) || (model.get("findings") ?? []).some((f) => f.subject === id))) act.select(id);
  else awaited = id ?? "";
}

async function news({ number, pieces }) {
  const kinds = model.take(pieces);
  const any = (...names) => names.some((n) => kinds.has(n));
  if (model.pattern && any("volts", "run", "head")) {
    const { of } = model.pattern;
    const runs = await pattern(of);
    act.light(Object.keys(runs).length > 0 ? { of, runs } : null);
  }
  seen = number;
  if (any("head")) head();
  if (any("head", "frame", "run")) {
    if (!camera.touched) camera.fit(model.box);
    const ids = model.head.orders;
    dot.follow(ids.includes(dot.order) ? dot.order : (ids[0] ?? ""));
  } else if (any("order")) dot.follow(dot.order);
  if (any("head", "frame", "run", "volts", "scale")) recolour();
  if (any("head", "order", "run")) panel.orders();
  if (any("findings", "hidden", "head", "places")) panel.findings();
  if (any("head", "run", "lead", "thing", "volts", "flow", "level")) panel.lists();
  if (any("head", "run", "lead", "thing", "volts", "flow", "level", "places", "findings")) panel.selected();
  if (follows && any("cursor")) pointTo(model.get("cursor")?.id);
  else if (follows && awaited) pointTo(awaited);
  redraw("ground", "light");
  status(model.runs.length === 0 ? words.nothing : model.head.broken ? words.broken : "");
}

still();
pointer();
bindKeys(stage, act);
new ResizeObserver(resize).observe(stage);
for (const q of ["(prefers-color-scheme: dark)", "(prefers-contrast: more)", "(resolution: 1dppx)"]) {
  matchMedia(q).addEventListener("change", () => {
    ink = inks();
    dot.ink = ink;
    resize();
  });
}
listen(news, (there) => status(there ? "" : words.gone));
