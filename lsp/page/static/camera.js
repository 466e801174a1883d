// Which part of the picture is on the screen.

export class Camera {
  k = 100; // screen pixels for each metre
  x = 0; // m, of the picture, at the left edge
  y = 0; // at the upper edge
  width = 1; // of the stage, screen pixels
  height = 1;
  touched = false; // the user has moved it: it stays where it is when the plan changes

  /** Shows all of a box, with room for labels. */
  fit(box) {
    const [w, h] = [Math.max(0.05, box[2] - box[0]), Math.max(0.05, box[3] - box[1])];
    const [left, top, right, bottom] = this.width < 560 ? [26, 34, 26, 150] : [64, 56, 64, 104];
    this.k = Math.min((this.width - left - right) / w, (this.height - top - bottom) / h);
    this.k = Math.max(this.k, 0.5);
    this.x = (box[0] + box[2]) / 2 - (this.width + left - right) / 2 / this.k;
    this.y = (box[1] + box[3]) / 2 - (this.height + top - bottom) / 2 / this.k;
    this.touched = false;
  }

  zoom(factor, sx = this.width / 2, sy = this.height / 2) {
    const k = Math.min(20000, Math.max(0.5, this.k * factor));
    this.x += sx / this.k - sx / k;
    this.y += sy / this.k - sy / k;
    this.k = k;
    this.touched = true;
  }

  pan(dx, dy) {
    this.x -= dx / this.k;
    this.y -= dy / this.k;
    this.touched = true;
  }

  /** Brings a box to the middle if nothing of it is in sight. */
  reveal(x0, y0, x1, y1) {
    const margin = 24;
    const out = this.sx(x1) < margin || this.sx(x0) > this.width - margin || this.sy(y1) < margin || this.sy(y0) > this.height - margin;
    if (!out) return;
    this.x = (x0 + x1) / 2 - this.width / 2 / this.k;
    this.y = (y0 + y1) / 2 - this.height / 2 / this.k;
  }

  sx(x) {
    return (x - this.x) * this.k;
  }

  sy(y) {
    return (y - this.y) * this.k;
  }
}
