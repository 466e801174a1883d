// A dot that runs along an order, pixel by pixel. It has a canvas of its own,
// of which only the places that it was at are wiped.
const tail = 24; // pixels that still glow behind it

export class Dot {
  order = "";
  pixels = new Uint32Array(0);
  at = 0; // place in the order; between two pixels while it runs
  speed = 60; // pixels a second
  running = false;
  #dirty = [0, 0, 0, 0];
  #last = 0;

  constructor(canvas, model, camera, moved) {
    Object.assign(this, { canvas, model, camera, moved });
    this.frame = this.frame.bind(this);
  }

  follow(id) {
    const { pixels } = this.model.sequence(id);
    if (id !== this.order) this.at = 0;
    this.order = id;
    this.pixels = pixels;
    this.at = Math.min(this.at, Math.max(0, pixels.length - 1));
    if (pixels.length === 0) this.stop();
    this.draw();
  }

  toggle() {
    if (this.running) this.stop();
    else if (this.pixels.length > 0) {
      this.running = true;
      this.#last = performance.now();
      requestAnimationFrame(this.frame);
    }
    this.moved(true);
  }

  stop() {
    this.running = false;
  }

  step(n) {
    this.stop();
    if (this.pixels.length > 0) this.at = (Math.floor(this.at) + n + this.pixels.length) % this.pixels.length;
    this.draw();
    this.moved(true);
  }

  frame(now) {
    if (!this.running) return;
    this.at = (this.at + (Math.min(100, now - this.#last) * this.speed) / 1000) % this.pixels.length;
    this.#last = now;
    this.draw();
    this.moved(false);
    requestAnimationFrame(this.frame);
  }

  /** Fits the canvas to the stage. */
  resize() {
    const ratio = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(this.camera.width * ratio);
    this.canvas.height = Math.round(this.camera.height * ratio);
    this.g = this.canvas.getContext("2d");
    this.g.setTransform(ratio, 0, 0, ratio, 0, 0);
    this.draw();
  }

  draw() {
    const g = this.g;
    if (!g) return;
    const [x0, y0, x1, y1] = this.#dirty;
    g.clearRect(x0, y0, x1 - x0, y1 - y0);
    this.#dirty = [0, 0, 0, 0];
    if (this.pixels.length === 0 || (!this.running && this.at === 0)) return;
    const { line } = this.model;
    const head = Math.floor(this.at);
    const r = Math.max(4, Math.min(9, this.camera.k / 40));
    let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
    let [px, py] = [NaN, NaN];
    for (let n = Math.max(0, head - tail); n <= head; n++) {
      const { run, pixel } = this.model.owner(this.pixels[n]);
      const i = this.model.at(run, pixel);
      const [x, y] = [this.camera.sx(line[i]), this.camera.sy(line[i + 1])];
      const age = (head - n) / tail;
      if (Math.hypot(x - px, y - py) > Math.max(12, 4 * this.model.get("run", run.id).pitch * this.camera.k)) {
        g.globalAlpha = 1 - age;
        g.setLineDash([3, 4]);
        g.strokeStyle = this.ink.accent;
        g.lineWidth = 1.5;
        g.beginPath();
        g.moveTo(px, py);
        g.lineTo(x, y);
        g.stroke();
        g.setLineDash([]);
      }
      g.globalAlpha = n === head ? 1 : 0.65 * (1 - age);
      g.fillStyle = this.ink.accent;
      g.beginPath();
      g.arc(x, y, n === head ? r : r * (1 - 0.75 * age), 0, 2 * Math.PI);
      g.fill();
      if (n === head) {
        g.strokeStyle = this.ink.wall;
        g.lineWidth = 2;
        g.stroke();
      }
      [px, py] = [x, y];
      left = Math.min(left, x);
      top = Math.min(top, y);
      right = Math.max(right, x);
      bottom = Math.max(bottom, y);
    }
    g.globalAlpha = 1;
    this.#dirty = [left - r - 3, top - r - 3, right + r + 3, bottom + r + 3];
  }
}
