// All that the page says, so that another language is one file.

const three = (x) => (x === 0 ? "0" : String(Number(x.toPrecision(3))));
const several = (n, one, many) => `${n} ${n === 1 ? one : many}`;

export const volts = (mV) => `${Math.abs(mV) < 1000 ? three(mV / 1000) : (mV / 1000).toFixed(2)} V`;
export const amps = (mA) => (mA < 1000 ? `${three(mA)} mA` : `${three(mA / 1000)} A`);
export const percent = (thousandths) => `${three(thousandths / 10)} %`;
export const metres = (m) => (m < 1 ? `${three(m * 100)} cm` : `${three(m)} m`);
export const centimetres = metres;

export const words = {
  untitled: "A plan without a title",
  cases: "Load case",
  cases_of: { full: "full", held: "held", any: "any pattern" },
  tips_of: {
    full: "Every channel at 100 %, ceilings ignored",
    held: "The same under the ceilings of the controllers",
    own: "A case of the plan",
  },
  stage: "The plan, drawn. Arrow keys move it, + and - zoom, question mark lists all keys.",
  help: "Keys",
  close: "Close",
  fit: "Fit all (0)",
  closer: "Closer (+)",
  farther: "Farther (-)",
  frames: { free: "Not on a surface", bare: "Only lengths are known; laid out in rows" },
  connecting: "Connecting",
  gone: "The program that shows this page has ended, or cannot be reached. The picture is the last one.",
  nothing: "There is nothing to draw yet: no run has both a strip and a length.",
  broken: "Part of the wiring cannot be read. What hangs on it is left out.",
  judging: "Judging",

  findings: (n) => (n === 0 ? "Nothing found" : several(n, "finding", "findings")),
  all_clear: (hidden) => {
    const means = [[hidden.comment, "allowed by comment"], [hidden.policy, "turned off by policy"], [hidden.baseline, "not told because of the baseline"]].filter(([n]) => n > 0);
    if (means.length === 0) return "Every rule is content with the plan as it is shown.";
    return `Nothing else than what the plan asks not to be told: ${means.map(([n, how]) => `${several(n, "finding", "findings")} ${how}`).join(", ")}.`;
  },
  levels: { error: "Error", warning: "Warning", hint: "Hint" },
  marks: { error: "✕", warning: "!", hint: "i" },
  place: (at) => `${at.path.slice(at.path.lastIndexOf("/") + 1)}:${at.line}`,
  whole_place: (at) => `${at.path}:${at.line}`,
  jump: "Show in the editor",
  selected: "Selected",
  none_selected: "Click a run, or go through them with [ and ].",
  orders: "Order of the pixels",
  order_kind: (port) => (port ? "data output" : "order"),
  play: "Run the dot",
  pause: "Stop the dot",
  step_on: "One pixel on",
  step_back: "One pixel back",
  speed: "Pixels a second",
  no_orders: "No pixel has a place in an order or on a data output yet.",
  at_pixel: (k, n, run, own) => `Pixel ${k} (0 to ${n - 1}): ${run}, its pixel ${own}`,
  spans: (n) => several(n, "run", "runs"),
  runs: (n) => several(n, "run", "runs"),
  leads: (n) => several(n, "lead", "leads"),
  things: "Supplies, joints, controllers",

  pixels: (n) => several(n, "pixel", "pixels"),
  run_line: (r, least) => `${several(r.pixels, "pixel", "pixels")}, ${r.length}${least === null ? "" : `, least ${volts(least)}`}`,
  lead_line: (amps_, drop) => `${amps(amps_)}, loses ${volts(drop)}`,
  facts: {
    length: "Length",
    estimated: "estimated",
    strip: "Strip",
    port: "Data from",
    first: (k) => `from its pixel ${k}`,
    current: "Current",
    least: "Least voltage",
    at: (v, k) => `${v} at pixel ${k}`,
    need: "Its colours need",
    worst: "Worst of any pattern",
    from: "From",
    to: "To",
    wire: "Wire",
    fuse: "Fuse",
    no_fuse: "none",
    loses: "Loses",
    ampacity: "Carries",
    voltage: "Voltage",
    load: "Load",
    rating: (share) => `${share} of its rating`,
  },
  short: "below its need",
  light_worst: "Light the worst pattern",
  light_case: "Back to the case",
  pattern: (id, lit, all) => `Worst pattern for ${id}: ${lit} of ${all} pixels lit`,
  pattern_none: (id) => `No pattern is known for ${id}.`,
  chart: (id) => `Voltage along ${id}, pixel by pixel. Left and right arrow move the reading.`,
  reading: (k, v) => `pixel ${k}: ${v}`,
  follow: "Follow the cursor of the editor",
  legend: (name) => `Voltage at the pixels, ${name}`,
  up: "up",
  of_nominal: (v) => `${v} V strip`,
  least_mark: "lowest pixel of a run",
  short_mark: "below what its colours need",
  first_mark: "first pixel, direction of the data",
  unknown_mark: "no voltage known",
  updated: (ms) => `Updated, drawn in ${ms} ms`,

  keys: [
    ["Arrow keys", "move the picture"],
    ["+   -   0", "closer, farther, fit all"],
    ["[   ]", "run before, run after"],
    ["C", "next load case"],
    ["W", "light the worst pattern of what is selected"],
    ["Space", "run or stop the dot"],
    [",   .", "the dot one pixel back, one on"],
    ["O", "next order"],
    ["<   >", "dot slower, faster"],
    ["F", "to the findings"],
    ["Enter", "show what is selected in the editor"],
    ["Escape", "back to the case, then nothing selected"],
    ["?", "this list"],
  ],
  mouse: "Drag moves the picture, the wheel zooms, a click selects, a double click shows the place in the editor.",
};
