// The stamp as small as it is used, on a ground of her own, or on her painting, which stays here.

import { called, picture, latestOnly } from "./asking.js";
import { tinted } from "./picture.js";

const USED_AT = 0.25;
const MOST = [240, 220]; // css px that are shown of it

/** The small picture on `canvas`. */
export class InUse {
  constructor(canvas, { ground, ink, painting, after, told }) {
    this.canvas = canvas;
    this.inputs = { ground, ink };
    this.stamp = null;
    this.bitmap = null;
    this.painting = null;
    this.turned = {};
    this.told = told;
    this.after = after;
    this.ask = latestOnly((wish) => this.#fetch(wish));
    ground.addEventListener("input", () => this.#paint());
    ink.addEventListener("input", () => this.#paint());
    painting.addEventListener("change", () => this.take(painting.files[0]));
  }

  show(stamp) {
    this.stamp = stamp;
    this.refresh();
  }

  refresh() {
    if (!this.stamp) return;
    const width = Math.max(1, Math.round(this.stamp.width * USED_AT));
    const height = Math.max(1, Math.round((this.stamp.height * width) / this.stamp.width));
    const pixels = window.devicePixelRatio || 1;
    const size = [Math.min(width, MOST[0] * pixels), Math.min(height, MOST[1] * pixels)];
    const corner = [(width - size[0]) / 2, (height - size[1]) / 2];
    const seen = [...corner, ...size].map(Math.round);
    const asked = { window: seen, changes: this.turned };
    this.ask({ ...called(this.stamp), width, ...asked });
  }

  /** Stand on the painting in `file`, which goes nowhere. */
  async take(file) {
    if (!file) return;
    try {
      this.painting = await createImageBitmap(file);
      this.#paint();
    } catch {
      this.told("This file is no picture that the browser can show.");
    }
  }

  async #fetch(wish) {
    await this.after;
    try {
      const bitmap = await picture("/sketch", wish);
      if (bitmap === null || wish.stamp !== (this.stamp && called(this.stamp).stamp)) return;
      this.bitmap = bitmap;
      this.#paint();
    } catch {
      // What is wrong is said where the large picture is asked for.
    }
  }

  #paint() {
    if (!this.bitmap) return;
    const { canvas, bitmap } = this;
    canvas.width = bitmap.width;
    canvas.height = bitmap.height;
    canvas.style.width = `${bitmap.width / (window.devicePixelRatio || 1)}px`;
    const context = canvas.getContext("2d");
    if (this.painting) {
      const { width, height } = this.painting;
      const scale = Math.max(canvas.width / width, canvas.height / height);
      const [wide, high] = [width * scale, height * scale];
      context.drawImage(
        this.painting,
        (canvas.width - wide) / 2,
        (canvas.height - high) / 2,
        wide,
        high,
      );
    } else {
      context.fillStyle = this.inputs.ground.value;
      context.fillRect(0, 0, canvas.width, canvas.height);
    }
    context.drawImage(tinted(bitmap, this.inputs.ink.value), 0, 0);
  }
}
