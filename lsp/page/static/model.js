// What is shown: the pieces as they came, and the pixels of all runs in typed
// arrays, so that drawing ten thousand of them makes no garbage.

export const UNKNOWN = 64; // bucket of pixels without a known voltage
export const DARK = 65; // bucket of pixels that a pattern leaves dark

export class Model {
  pieces = new Map();
  head = { cases: [], frames: [], runs: [], things: [], leads: [], orders: [] };
  runs = []; // {id, frame, first, count}: pixels first … first + count - 1
  total = 0;
  line = new Float32Array(0); // x, y of the ends and middles of pixels, m, y down; see at()
  bucket = new Uint8Array(0); // colour of each pixel
  short = new Uint8Array(0); // 1 below what its colours need
  origins = new Map(); // frame -> [x, y], m, of its lower left corner in the picture
  box = [0, 0, 1, 1]; // of the picture
  caseIndex = 0;
  pattern = null; // {of, runs}

  /** Takes what changed; tells which kinds of pieces did. */
  take(pieces) {
    const kinds = new Set();
    for (const [key, value] of Object.entries(pieces)) {
      kinds.add(key.split("/", 1)[0]);
      if (value === null) this.pieces.delete(key);
      else this.pieces.set(key, value);
    }
    if (kinds.has("head")) {
      if (this.head.cases.length === 0) this.caseIndex = this.pieces.get("head")?.opens ?? 0;
      this.head = this.pieces.get("head") ?? this.head;
    }
    this.caseIndex = Math.min(this.caseIndex, Math.max(0, this.head.cases.length - 1));
    if (["head", "frame", "run"].some((k) => kinds.has(k))) this.#lay();
    return kinds;
  }

  get(kind, id) {
    return this.pieces.get(id === undefined ? kind : `${kind}/${id}`);
  }

  /** Puts the frames beside and below one another, and all pixels into arrays. */
  #lay() {
    const frames = this.head.frames
      .map((id) => ({ id, box: this.get("frame", id)?.box.map((v) => v / 1e4) }))
      .filter((f) => f.box);
    const size = (f) => [f.box[2] - f.box[0], f.box[3] - f.box[1]];
    const area = frames.reduce((sum, f) => sum + Math.max(0.2, size(f)[0]) * Math.max(0.2, size(f)[1]), 0);
    const wide = Math.max(...frames.map((f) => size(f)[0]), 1.6 * Math.sqrt(area), 0.1);
    const gap = 0.06 * Math.max(wide, ...frames.map((f) => size(f)[1]));
    let [x, y, tall] = [0, 0, 0];
    let [right, bottom] = [0.1, 0.1];
    this.origins.clear();
    for (const f of frames) {
      const [w, h] = size(f);
      if (x > 0 && x + w > wide * 1.05) [x, y, tall] = [0, y + tall + gap, 0];
      this.origins.set(f.id, [x - f.box[0], y + f.box[3]]);
      [right, bottom] = [Math.max(right, x + w), Math.max(bottom, y + h)];
      tall = Math.max(tall, h);
      x += w + gap;
    }
    this.box = [0, 0, right, bottom];

    this.runs = [];
    this.total = 0;
    for (const id of this.head.runs) {
      const r = this.get("run", id);
      if (!r || !this.origins.has(r.frame)) continue;
      this.runs.push({ id, frame: r.frame, first: this.total, count: r.pixels });
      this.total += r.pixels;
    }
    this.line = new Float32Array(4 * this.total + 2 * this.runs.length);
    this.bucket = new Uint8Array(this.total).fill(UNKNOWN);
    this.short = new Uint8Array(this.total);
    let n = 0;
    for (const [i, run] of this.runs.entries()) {
      const [ox, oy] = this.origins.get(run.frame);
      run.at = n;
      run.index = i;
      const line = this.get("run", run.id).line;
      for (let k = 0; k < line.length; k += 2) {
        this.line[n++] = ox + line[k] / 1e4;
        this.line[n++] = oy - line[k + 1] / 1e4;
      }
    }
  }

  /** Where a place of a frame lies in the picture, m. */
  place(frame, x, y) {
    const o = this.origins.get(frame);
    return o && [o[0] + x / 1e4, o[1] - y / 1e4];
  }

  run(id) {
    return this.runs.find((r) => r.id === id);
  }

  /** Index in line of the middle of a run's pixel. */
  at(run, k) {
    return run.at + 4 * k + 2;
  }

  /** The voltages of a run's pixels as they are shown, mV; null where they are not known. */
  volts(id) {
    if (this.pattern?.runs[id]) return this.pattern.runs[id].at;
    return this.profile(id)?.at ?? null;
  }

  profile(id, index = this.caseIndex) {
    return this.get("volts", id)?.cases[index] ?? null;
  }

  /** Gives each pixel the colour of its voltage. */
  colour() {
    const scale = this.get("scale");
    for (const run of this.runs) {
      const piece = this.get("run", run.id);
      const volts = this.volts(run.id);
      const shares = this.pattern ? (this.pattern.runs[run.id]?.shares ?? []) : null;
      for (let k = 0; k < run.count; k++) {
        const i = run.first + k;
        const v = volts?.[k];
        this.short[i] = v !== undefined && piece.need > 0 && v < piece.need * 1000 - 0.5 ? 1 : 0;
        if (shares && !(shares[k] > 0)) this.bucket[i] = DARK;
        else if (v === undefined || !scale) this.bucket[i] = UNKNOWN;
        else {
          const t = (v / 1000 / piece.nominal - scale.low) / (scale.high - scale.low);
          this.bucket[i] = Math.min(63, Math.max(0, Math.round(63 * t)));
        }
        if (this.bucket[i] === DARK) this.short[i] = 0;
      }
    }
  }

  /** The run and pixel of a pixel of the picture. */
  owner(i) {
    let [low, high] = [0, this.runs.length - 1];
    while (low < high) {
      const mid = (low + high + 1) >> 1;
      if (this.runs[mid].first <= i) low = mid;
      else high = mid - 1;
    }
    return { run: this.runs[low], pixel: i - this.runs[low].first };
  }

  /** The pixels of the picture in an order, and where a run begins in it. */
  sequence(id) {
    const order = this.get("order", id);
    if (!order) return { pixels: new Uint32Array(0), starts: [] };
    const out = [];
    const starts = [];
    for (const s of order.spans) {
      const run = this.run(s.run);
      if (!run) continue;
      starts.push(out.length);
      const n = Math.min(s.count, run.count);
      for (let k = 0; k < n; k++) out.push(run.first + (s.fromEnd ? run.count - 1 - k : k));
    }
    return { pixels: Uint32Array.from(out), starts };
  }
}
