// The voltage along one run, pixel by pixel, in every case.
import { draw, make } from "./dom.js";
import { volts, words } from "./words.js";

const [width, height] = [340, 190];
const [left, right, top, bottom] = [46, 8, 12, 24];

/** Makes the chart of a run; look is called with the pixel that is read. */
export function profile(model, id, look) {
  const piece = model.get("run", id);
  const lines = (model.get("volts", id)?.cases ?? [])
    .map((p, i) => ({ at: p?.at, name: model.head.cases[i], on: !model.pattern && i === model.caseIndex }))
    .filter((l) => l.at);
  const lit = model.pattern?.runs[id];
  if (lit?.at) lines.push({ at: lit.at, name: "any", on: true });
  if (!piece || lines.length === 0) return null;
  lines.sort((a, b) => a.on - b.on);
  const shown = lines.at(-1);

  const need = piece.need * 1000;
  let [low, high] = [Infinity, -Infinity];
  for (const l of lines) for (const v of l.at) [low, high] = [Math.min(low, v), Math.max(high, v)];
  if (need > 0 && low - need < 1.5 * (high - low) + 200) low = Math.min(low, need);
  const pad = Math.max(20, 0.08 * (high - low));
  [low, high] = [low - pad, high + pad];
  const x = (k) => left + ((width - left - right) * (k + 0.5)) / Math.max(1, piece.pixels);
  const y = (v) => top + ((height - top - bottom) * (high - v)) / (high - low);

  const svg = draw("svg", { viewBox: `0 0 ${width} ${height}`, class: "profile", tabindex: 0, role: "img", "aria-label": words.chart(id) });
  const marks = ticks(low, high);
  const digits = marks.length > 1 ? Math.max(1, 3 - Math.floor(Math.log10(marks[1] - marks[0]))) : 2;
  for (const v of marks) {
    svg.append(draw("line", { class: "grid", x1: left, x2: width - right, y1: y(v), y2: y(v) }));
    svg.append(draw("text", { x: left - 5, y: y(v) + 3.5, "text-anchor": "end" }, (v / 1000).toFixed(digits)));
  }
  for (const k of pixelTicks(piece.pixels)) {
    svg.append(draw("text", { x: x(k), y: height - 7, "text-anchor": k === 0 ? "start" : k === piece.pixels - 1 ? "end" : "middle" }, String(k)));
  }
  if (need > low && need < high) {
    svg.append(draw("line", { class: "need", x1: left, x2: width - right, y1: y(need), y2: y(need) }));
    svg.append(draw("text", { class: "need", x: width - right - 2, y: y(need) - 4, "text-anchor": "end" }, `${words.facts.need} ${volts(need)}`));
  }
  for (const l of lines) {
    const every = Math.max(1, Math.floor(l.at.length / 600));
    let d = "";
    for (let k = 0; k < l.at.length; k += every) d += `${k === 0 ? "M" : "L"}${x(k).toFixed(1)} ${y(l.at[k]).toFixed(1)}`;
    if (l.at.length > 0) d += `L${x(l.at.length - 1).toFixed(1)} ${y(l.at.at(-1)).toFixed(1)}`;
    svg.append(draw("path", { class: l.on ? "on" : "off", d }));
  }
  const bar = draw("line", { class: "bar", y1: top, y2: height - bottom, visibility: "hidden" });
  const dot = draw("circle", { class: "bar", r: 3.5, visibility: "hidden" });
  svg.append(bar, dot);
  const reading = make("p", { className: "reading" }, caseName(shown.name));

  let pixel = -1;
  const read = (k) => {
    pixel = Math.min(piece.pixels - 1, Math.max(0, k));
    const v = shown.at[pixel];
    if (v === undefined) return;
    for (const [e, props] of [[bar, { x1: x(pixel), x2: x(pixel) }], [dot, { cx: x(pixel), cy: y(v) }]]) {
      e.setAttribute("visibility", "visible");
      for (const [name, value] of Object.entries(props)) e.setAttribute(name, value);
    }
    reading.textContent = `${caseName(shown.name)}, ${words.reading(pixel, volts(v))}`;
    look(pixel);
  };
  svg.addEventListener("pointermove", (e) => {
    const box = svg.getBoundingClientRect();
    const at = ((e.clientX - box.left) / box.width) * width;
    read(Math.floor(((at - left) / (width - left - right)) * piece.pixels));
  });
  svg.addEventListener("keydown", (e) => {
    const by = { ArrowLeft: -1, ArrowRight: 1, Home: -1e9, End: 1e9 }[e.key];
    if (by === undefined) return;
    e.preventDefault();
    e.stopPropagation();
    read((pixel < 0 ? 0 : pixel) + by * (e.shiftKey ? 10 : 1));
  });
  return make("figure", {}, svg, reading);
}

const caseName = (name) => words.cases_of[name] ?? name;

function ticks(low, high) {
  const step = [5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000].find((s) => (high - low) / s <= 5) ?? 10000;
  const out = [];
  for (let v = Math.ceil(low / step) * step; v <= high; v += step) out.push(v);
  return out;
}

function pixelTicks(n) {
  if (n < 3) return [0];
  return [0, Math.round((n - 1) / 2), n - 1];
}
