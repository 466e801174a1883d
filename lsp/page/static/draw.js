// Draws the picture on two canvases: the ground with surfaces and wiring, and
// the light of the runs. Neither is drawn again while the dot runs over them.
import { DARK, UNKNOWN } from "./model.js";
import { metres, volts, words } from "./words.js";

const font = (px, weight = 400) => `${weight} ${px}px system-ui, "Segoe UI", "Helvetica Neue", "DejaVu Sans", sans-serif`;

/** The colours of the page, as the style sheet has them for light and dark. */
export function inks() {
  const style = getComputedStyle(document.documentElement);
  const of = (name) => style.getPropertyValue("--" + name).trim();
  return Object.fromEntries(
    ["paper", "wall", "line", "soft", "faint", "shade", "accent", "danger", "casing", "off", "lead", "part", "pixel"].map((n) => [n, of(n)]),
  );
}

/** Makes a canvas as large as the stage, in the screen's own pixels. */
export function sized(canvas, camera) {
  const ratio = window.devicePixelRatio || 1;
  const [w, h] = [Math.round(camera.width * ratio), Math.round(camera.height * ratio)];
  if (canvas.width !== w || canvas.height !== h) {
    canvas.width = w;
    canvas.height = h;
  }
  const g = canvas.getContext("2d");
  g.setTransform(ratio, 0, 0, ratio, 0, 0);
  g.clearRect(0, 0, camera.width, camera.height);
  return g;
}

/** Text that lies on nothing else: labels are left out where there is no room. */
class Labels {
  taken = [];
  constructor(g, camera, ink) {
    Object.assign(this, { g, camera, ink });
  }
  /** Keeps labels off the lines of the runs. */
  avoid(model) {
    const { line, runs } = model;
    const cell = 5;
    const across = Math.ceil(this.camera.width / cell);
    const down = Math.ceil(this.camera.height / cell);
    const grid = new Uint8Array(across * down);
    for (const run of runs) {
      for (let i = run.at; i <= run.at + 4 * run.count; i += 2) {
        const x = Math.floor(this.camera.sx(line[i]) / cell);
        const y = Math.floor(this.camera.sy(line[i + 1]) / cell);
        if (x >= 0 && y >= 0 && x < across && y < down) grid[y * across + x] = 1;
      }
    }
    this.covered = (box) => {
      const [x0, y0] = [Math.max(0, Math.floor((box[0] + 3) / cell)), Math.max(0, Math.floor((box[1] + 3) / cell))];
      const [x1, y1] = [Math.min(across - 1, Math.floor((box[2] - 3) / cell)), Math.min(down - 1, Math.floor((box[3] - 3) / cell))];
      for (let y = y0; y <= y1; y++) for (let x = x0; x <= x1; x++) if (grid[y * across + x]) return true;
      return false;
    };
  }
  covered = () => false;
  free(box) {
    return !this.covered(box) && !this.taken.some((t) => box[0] < t[2] && t[0] < box[2] && box[1] < t[3] && t[1] < box[3]);
  }
  keep(x0, y0, x1, y1) {
    this.taken.push([x0, y0, x1, y1]);
  }
  /** Writes text at the first of some places that is free; each is [x, y, align]. */
  write(text, size, colour, places, weight = 400) {
    const g = this.g;
    g.font = font(size, weight);
    const short = text.length > 60 ? text.slice(0, 59) + "…" : text;
    const w = g.measureText(short).width;
    for (const [x, y, align] of places) {
      const left = align === "center" ? x - w / 2 : align === "right" ? x - w : x;
      const box = [left - 3, y - size * 0.65, left + w + 3, y + size * 0.65];
      if (box[0] < 2 || box[2] > this.camera.width - 2 || box[1] < 2 || box[3] > this.camera.height - 2 || !this.free(box)) continue;
      this.taken.push(box);
      g.textBaseline = "middle";
      g.textAlign = "left";
      g.lineJoin = "round";
      g.strokeStyle = this.halo ?? this.ink.wall;
      g.lineWidth = 3.5;
      g.strokeText(short, left, y);
      g.fillStyle = colour;
      g.fillText(short, left, y);
      return true;
    }
    return false;
  }
}

/** Lines at round distances, so that sizes can be read off; the step is given back, m. */
export function step(k) {
  for (const s of [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100]) if (s * k >= 56) return s;
  return 200;
}

/** Draws surfaces, keepouts, leads, supplies, joints and controllers. */
export function drawGround(canvas, model, camera, ink, chosen) {
  const g = sized(canvas, camera);
  const labels = new Labels(g, camera, ink);
  const grid = step(camera.k);
  for (const id of model.head.frames) {
    const frame = model.get("frame", id);
    const origin = model.origins.get(id);
    if (!frame || !origin) continue;
    const [left, bottom, right, top] = frame.box.map((v) => v / 1e4);
    const [x0, y0] = [camera.sx(origin[0] + left), camera.sy(origin[1] - top)];
    const [x1, y1] = [camera.sx(origin[0] + right), camera.sy(origin[1] - bottom)];
    const surface = frame.size[0] !== "";
    if (surface) {
      g.fillStyle = ink.wall;
      g.fillRect(x0, y0, x1 - x0, y1 - y0);
      g.strokeStyle = ink.faint;
      g.lineWidth = 1;
      g.beginPath();
      for (let x = Math.ceil(left / grid) * grid; x < right; x += grid) {
        const sx = Math.round(camera.sx(origin[0] + x)) + 0.5;
        g.moveTo(sx, y0);
        g.lineTo(sx, y1);
      }
      for (let y = Math.ceil(bottom / grid) * grid; y < top; y += grid) {
        const sy = Math.round(camera.sy(origin[1] - y)) + 0.5;
        g.moveTo(x0, sy);
        g.lineTo(x1, sy);
      }
      g.stroke();
      g.strokeStyle = chosen === id ? ink.accent : ink.soft;
      g.lineWidth = chosen === id ? 2.5 : 1.25;
      g.strokeRect(x0, y0, x1 - x0, y1 - y0);
      labels.write(`${id.replace(/^surface\./, "")}   ${frame.size.join(" × ")}`, 12, ink.soft, [[x0, y0 - 12, "left"], [x0 + 6, y0 + 12, "left"]]);
    } else if (model.head.frames.length > 1 || id === "bare") {
      labels.write(words.frames[id] ?? id, 12, ink.soft, [[x0, y0 - 34, "left"]]);
    }
    if (id !== "bare") labels.write(`↑ ${words.up}`, 12, ink.soft, [[x0 - 6, y0 + 12, "right"], [x1 + 6, y0 + 12, "left"], [x0, y0 - 22, "left"]]);
    for (const k of frame.keepouts ?? []) {
      const [a, b, c, d] = k.box.map((v) => v / 1e4);
      keepout(g, camera.sx(origin[0] + a), camera.sy(origin[1] - d), camera.sx(origin[0] + c), camera.sy(origin[1] - b), ink);
      if (k.why) labels.write(k.why, 11, ink.soft, [[camera.sx(origin[0] + (a + c) / 2), camera.sy(origin[1] - (b + d) / 2), "center"]]);
    }
  }
  drawLeads(g, model, camera, ink, chosen);
  drawThings(g, model, camera, ink, chosen, labels);
  nameLeads(model, camera, ink, labels);
}

function keepout(g, x0, y0, x1, y1, ink) {
  g.save();
  g.beginPath();
  g.rect(x0, y0, x1 - x0, y1 - y0);
  g.fillStyle = ink.shade;
  g.fill();
  g.clip();
  g.beginPath();
  const h = y1 - y0;
  for (let x = x0 - h; x < x1; x += 8) {
    g.moveTo(x, y1);
    g.lineTo(x + h, y0);
  }
  g.strokeStyle = ink.faint;
  g.lineWidth = 1.5;
  g.stroke();
  g.restore();
  g.strokeStyle = ink.soft;
  g.lineWidth = 1;
  g.strokeRect(x0, y0, x1 - x0, y1 - y0);
}

function drawLeads(g, model, camera, ink, chosen) {
  for (const id of model.head.leads) {
    const at = model.get("lead", id)?.ends;
    const from = at && model.place(at.frame, at.line[0], at.line[1]);
    if (!from) continue;
    const to = model.place(at.frame, at.line[2], at.line[3]);
    g.beginPath();
    g.moveTo(camera.sx(from[0]), camera.sy(from[1]));
    g.lineTo(camera.sx(to[0]), camera.sy(to[1]));
    g.setLineDash([7, 4]);
    g.strokeStyle = chosen === id ? ink.accent : ink.lead;
    g.lineWidth = chosen === id ? 3.5 : 1.5;
    g.stroke();
  }
  g.setLineDash([]);
}

/** Names the leads that are long enough on the screen to carry a name. */
function nameLeads(model, camera, ink, labels) {
  for (const id of model.head.leads) {
    const at = model.get("lead", id)?.ends;
    const from = at && model.place(at.frame, at.line[0], at.line[1]);
    if (!from) continue;
    const to = model.place(at.frame, at.line[2], at.line[3]);
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) * camera.k < 60) continue;
    const [x, y] = [camera.sx((from[0] + to[0]) / 2), camera.sy((from[1] + to[1]) / 2)];
    labels.write(id.slice(id.indexOf(".") + 1), 11, ink.soft, [[x + 5, y - 8, "left"], [x + 5, y + 9, "left"], [x - 5, y - 8, "right"]]);
  }
}

const symbol = { supply: "~", joint: "", controller: "µ" };

function drawThings(g, model, camera, ink, chosen, labels) {
  for (const id of model.head.things) {
    const t = model.get("thing", id);
    const at = t?.at && model.place(t.frame, t.at[0], t.at[1]);
    if (!at) continue;
    const [x, y] = [camera.sx(at[0]), camera.sy(at[1])];
    const r = t.kind === "joint" ? 4.5 : 11;
    g.fillStyle = ink.part;
    g.strokeStyle = chosen === id ? ink.accent : ink.line;
    g.lineWidth = chosen === id ? 3 : 1.4;
    g.beginPath();
    if (t.kind === "joint") g.arc(x, y, r, 0, 2 * Math.PI);
    else g.roundRect(x - r, y - r, 2 * r, 2 * r, t.kind === "supply" ? 2 : 6);
    g.fill();
    g.stroke();
    g.fillStyle = ink.line;
    g.font = font(13, 600);
    g.textAlign = "center";
    g.textBaseline = "middle";
    g.fillText(symbol[t.kind], x, y);
    labels.keep(x - r, y - r, x + r, y + r);
    const name = id.slice(id.indexOf(".") + 1);
    labels.write(name, 11, ink.soft, [[x, y + r + 9, "center"], [x, y - r - 9, "center"], [x + r + 5, y, "left"], [x - r - 5, y, "right"]]);
  }
}

/**
 * The lines of the runs by colour: pixels in a row that have one colour are one
 * line. They are in metres, and stay until voltages or geometry change.
 */
export class Strokes {
  paths = []; // by bucket
  all = new Path2D();

  constructor(model) {
    const { line, bucket } = model;
    for (const run of model.runs) {
      this.#stretch(this.all, line, run, 0, run.count);
      for (let k = 0; k < run.count; ) {
        const b = bucket[run.first + k];
        let n = 1;
        while (k + n < run.count && bucket[run.first + k + n] === b) n++;
        // Half a pixel more than it is long, so that no seam shows between two colours.
        this.#stretch((this.paths[b] ??= new Path2D()), line, run, k, Math.min(n + 0.5, run.count - k));
        k += n;
      }
    }
  }

  #stretch(path, line, run, k, n) {
    let i = run.at + 4 * k;
    path.moveTo(line[i], line[i + 1]);
    for (const end = i + 4 * n; i < end; ) {
      i += 2;
      path.lineTo(line[i], line[i + 1]);
    }
  }
}

/** Draws the runs in the colours of their voltages. */
export function drawLight(canvas, model, camera, ink, ramp, strokes, chosen, pointed) {
  const g = sized(canvas, camera);
  if (!strokes || model.total === 0) return;
  const { line, bucket } = model;
  const pitch = Math.min(...model.runs.map((r) => model.get("run", r.id).pitch)) * camera.k;
  const wide = Math.max(2.5, Math.min(9, crowd(model, camera) * 0.55, 3 + camera.k / 60));
  const colour = (b) => (b === UNKNOWN ? ink.off : b === DARK ? ink.shade : ramp[b]);

  const world = (draw) => {
    g.save();
    g.scale(camera.k, camera.k);
    g.translate(-camera.x, -camera.y);
    draw(1 / camera.k);
    g.restore();
  };
  for (const [id, ring] of [[pointed, ink.soft], [chosen, ink.accent]]) {
    const run = id && model.run(id);
    if (!run) continue;
    const one = new Path2D();
    one.moveTo(line[run.at], line[run.at + 1]);
    for (let i = run.at + 2; i <= run.at + 4 * run.count; i += 2) one.lineTo(line[i], line[i + 1]);
    world((px) => {
      g.lineCap = "round";
      g.lineJoin = "round";
      g.strokeStyle = ring;
      g.lineWidth = (wide + 8) * px;
      g.stroke(one);
      g.strokeStyle = ink.wall;
      g.lineWidth = (wide + 4) * px;
      g.stroke(one);
    });
  }
  world((px) => {
    g.lineJoin = "round";
    g.lineCap = "butt";
    g.strokeStyle = ink.casing;
    g.lineWidth = (wide + 3) * px;
    g.stroke(strokes.all);
    for (const [b, path] of strokes.paths.entries()) {
      if (!path) continue;
      g.strokeStyle = colour(b);
      g.lineWidth = wide * px;
      g.stroke(path);
    }
  });
  if (pitch > 7) drawPixels(g, model, camera, ink, Math.min(pitch * 0.3, wide * 0.42, 14));
  drawMarks(g, model, camera, ink, wide, chosen);
}

/** About how far apart runs lie on the screen: neighbours must not run into one another. */
function crowd(model, camera) {
  if (model.runs.length < 2) return 100;
  const ys = model.runs.slice(0, 400).map((r) => model.line[r.at + 1] * camera.k).sort((a, b) => a - b);
  const xs = model.runs.slice(0, 400).map((r) => model.line[r.at] * camera.k).sort((a, b) => a - b);
  const gaps = (v) => v.slice(1).map((x, i) => x - v[i]).filter((d) => d > 0.5).sort((a, b) => a - b);
  const median = (v) => (v.length > 0 ? v[v.length >> 1] : 100);
  return Math.max(4, Math.max(median(gaps(ys)), median(gaps(xs)) * 0.5));
}

/** Single pixels, where there is room to tell one from the other. */
function drawPixels(g, model, camera, ink, r) {
  const { line } = model;
  g.beginPath();
  for (const run of model.runs) {
    for (let k = 0; k < run.count; k++) {
      const i = model.at(run, k);
      const [x, y] = [camera.sx(line[i]), camera.sy(line[i + 1])];
      if (x < -20 || y < -20 || x > camera.width + 20 || y > camera.height + 20) continue;
      g.moveTo(x + r, y);
      g.arc(x, y, r, 0, 2 * Math.PI);
    }
  }
  g.globalAlpha = 0.55;
  g.strokeStyle = ink.pixel;
  g.lineWidth = 1.2;
  g.stroke();
  g.globalAlpha = 1;
}

/** Direction, names, lowest pixels, and what is too low: what colour alone would tell. */
function drawMarks(g, model, camera, ink, wide, chosen) {
  const labels = new Labels(g, camera, ink);
  labels.avoid(model);
  if (!model.head.frames.some((id) => model.get("frame", id)?.size[0])) labels.halo = ink.paper;
  const { line } = model;
  const screen = (i) => [camera.sx(line[i]), camera.sy(line[i + 1])];
  // Pixels below what their colours need are crossed.
  g.strokeStyle = ink.danger;
  g.lineWidth = 1.6;
  g.beginPath();
  const s = Math.max(3, wide * 0.75);
  for (const run of model.runs) {
    let last = -Infinity;
    for (let k = 0; k < run.count; k++) {
      if (!model.short[run.first + k]) continue;
      const i = model.at(run, k);
      const along = k * model.get("run", run.id).pitch * camera.k;
      if (along - last < 2.5 * s) continue;
      last = along;
      const [x, y] = screen(i);
      g.moveTo(x - s, y - s);
      g.lineTo(x + s, y + s);
      g.moveTo(x - s, y + s);
      g.lineTo(x + s, y - s);
    }
  }
  g.stroke();

  const order = [...model.runs].sort((a, b) => (b.id === chosen) - (a.id === chosen));
  for (const run of order) {
    const piece = model.get("run", run.id);
    const length = run.count * piece.pitch * camera.k;
    if (length < 14) continue;
    const back = dataFromEnd(model, run.id);
    const [a, b] = back ? [run.at + 4 * run.count, run.at + 4 * run.count - 4] : [run.at, run.at + 4];
    arrow(g, screen(a), screen(b), wide, ink);
    const [x, y] = screen(visible(run, line, camera));
    const off = wide / 2 + 10;
    const name = run.id.slice(run.id.indexOf(".") + 1);
    labels.write(name, 11, ink.line, [[x + 4, y - off, "left"], [x + 4, y + off, "left"], [x - 10, y, "right"], [x - 4, y - off, "right"]], run.id === chosen ? 700 : 500);
  }
  for (const run of order) {
    const low = lowest(model, run);
    if (!low) continue;
    const [x, y] = screen(model.at(run, low.pixel));
    const down = wide / 2 + 2;
    // The number stands beside its mark, so that both fit between rows.
    const off = down + 5;
    if (!labels.write(volts(low.value), 11, ink.line, [[x - 7, y + off, "right"], [x + 7, y + off, "left"], [x - 7, y + off + 4, "right"], [x + 7, y + off + 4, "left"]])) continue;
    g.beginPath();
    g.moveTo(x, y + down);
    g.lineTo(x - 4, y + down + 5);
    g.lineTo(x, y + down + 10);
    g.lineTo(x + 4, y + down + 5);
    g.closePath();
    g.fillStyle = ink.line;
    g.fill();
  }
}

/** Where a run's name goes: its start, or the first of it that is in sight. */
function visible(run, line, camera) {
  for (let i = run.at; i <= run.at + 4 * run.count; i += 2) {
    const [x, y] = [camera.sx(line[i]), camera.sy(line[i + 1])];
    if (x > 8 && y > 8 && x < camera.width - 8 && y < camera.height - 8) return i;
  }
  return run.at;
}

function dataFromEnd(model, id) {
  const port = model.get("run", id)?.port;
  return model.get("order", port ?? "")?.spans.find((s) => s.run === id)?.fromEnd ?? false;
}

function lowest(model, run) {
  const at = model.volts(run.id);
  if (!at) return null;
  let pixel = 0;
  for (let k = 1; k < at.length; k++) if (at[k] < at[pixel]) pixel = k;
  return pixel < run.count ? { pixel, value: at[pixel] } : null;
}

/** A triangle at the first pixel that points where the data goes. */
function arrow(g, from, to, wide, ink) {
  const d = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [ux, uy] = [(to[0] - from[0]) / d, (to[1] - from[1]) / d];
  const r = Math.max(4.5, wide * 0.8);
  g.beginPath();
  g.moveTo(from[0] + ux * r * 1.7, from[1] + uy * r * 1.7);
  g.lineTo(from[0] - uy * r, from[1] + ux * r);
  g.lineTo(from[0] + uy * r, from[1] - ux * r);
  g.closePath();
  g.fillStyle = ink.line;
  g.strokeStyle = ink.wall;
  g.lineWidth = 1.5;
  g.fill();
  g.stroke();
}

/** The bar that says how long things on the screen are. */
export function scaleBar(camera) {
  const s = step(camera.k);
  return { pixels: s * camera.k, text: metres(s) };
}
