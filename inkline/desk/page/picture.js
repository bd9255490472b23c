// The large picture: drawn where and as large as it is looked at, moved and enlarged by hand.

import { called, picture, latestOnly, send } from "./asking.js";
import { markCells, writeNames } from "./names.js";
import { Patches } from "./patches.js";

const LARGEST = 6;
const STEP = 1.25;
const SETTLED_MS = 140;
const STILL = 5; // css px that a finger moves while it taps

/** A grey picture in a colour such as #25221d: the darker, the more of it; others as they are. */
export function tinted({ width, height, grey, colours }, colour) {
  const canvas = new OffscreenCanvas(width, height);
  if (colours) {
    canvas.getContext("2d").putImageData(new ImageData(colours, width, height), 0, 0);
    return canvas;
  }
  const image = new ImageData(width, height);
  const pixels = new Uint32Array(image.data.buffer);
  const [red, green, blue] = [1, 3, 5].map((at) => parseInt(colour.trim().slice(at, at + 2), 16));
  const flat = (blue << 16) | (green << 8) | red;
  for (let at = 0; at < grey.length; at += 1) if (grey[at]) pixels[at] = flat | (grey[at] << 24);
  canvas.getContext("2d").putImageData(image, 0, 0);
  return canvas;
}

/** The view of one stamp on `canvas`. */
export class PictureView {
  /**
   * @param canvas where it is shown
   * @param told gets sentences on what can't be drawn
   * @param drawn gets the time from a turn to its picture
   * @param place where pictures are asked for
   */
  constructor(canvas, { told, drawn, place = "/draw" }) {
    this.canvas = canvas;
    this.place = place;
    this.style = ""; // another one than the recipe's
    this.twin = null; // a view that moves with this one
    this.found = null; // names and cells that are shown on the exact lines, or null
    this.alone = false; // whether the exact lines are shown without the ink
    this.told = told;
    this.drawn = drawn;
    this.stamp = null;
    this.turned = {};
    this.again = {};
    this.wasMoved = false; // whether the last touch moved it
    this.waits = false; // whether ink is being drawn for it
    this.layers = { ink: new Patches(), exact: new Patches() };
    this.showsExact = false;
    this.zoom = null; // css px to a px of the stamp; null shows all of it
    this.middle = null; // what point of the stamp lies in the middle
    this.ask = latestOnly((wish) => this.#fetch(wish));
    this.askExact = latestOnly((wish) => this.#fetch(wish));
    new ResizeObserver(() => this.#resized()).observe(canvas);
    this.#listen();
  }

  show(stamp) {
    const same = this.stamp && stamp && this.stamp.name === stamp.name;
    this.stamp = stamp;
    if (!same) {
      if (this.waits) send("/drop").catch(() => {}); // nobody looks at that any more
      for (const layer of Object.values(this.layers)) layer.clear();
      this.zoom = this.middle = null;
    }
    this.refresh();
  }

  /** Ask for the picture as it should be now. */
  refresh(since = performance.now()) {
    if (!this.stamp || !this.canvas.width) return;
    if (!this.isBare) this.ask({ layer: "ink", since });
    if (this.showsExact || this.isBare) this.askExact({ layer: "exact", since });
  }

  /** Show only the exact lines, as long as this holds. */
  setAlone(alone) {
    if (alone === this.alone) return;
    this.alone = alone;
    this.refresh();
    this.#paint();
    this.twin?.setAlone(alone);
  }

  /** Look at the same place as another view does. */
  follow(zoom, middle) {
    this.zoom = zoom;
    this.middle = middle;
    if (!this.stamp) return;
    this.#paint();
    this.refresh();
  }

  /** Show what was found in place of the ink: its names and cells; null shows the ink again. */
  setFound(found) {
    if (found === this.found) return;
    this.found = found;
    this.refresh();
    this.#paint();
  }

  /** Whether only the exact lines are seen. */
  get isBare() {
    return this.alone || this.found !== null;
  }

  setExact(shows) {
    this.showsExact = shows;
    this.twin?.setExact(shows);
    if (shows) this.refresh();
    this.#paint();
  }

  get scale() {
    return this.zoom ?? this.#fitting();
  }

  zoomTo(zoom, about = null) {
    const before = this.scale;
    const least = this.#fitting();
    const next = zoom === null ? null : Math.min(LARGEST, Math.max(least, zoom));
    const middle = this.middle ?? [this.stamp.width / 2, this.stamp.height / 2];
    if (next === null || next <= least * 1.001) {
      this.zoom = this.middle = null;
    } else {
      const [x, y] = about ?? [this.canvas.clientWidth / 2, this.canvas.clientHeight / 2];
      const dx = (x - this.canvas.clientWidth / 2) * (1 / before - 1 / next);
      const dy = (y - this.canvas.clientHeight / 2) * (1 / before - 1 / next);
      this.zoom = next;
      this.middle = this.#held([middle[0] + dx, middle[1] + dy]);
    }
    this.#paint();
    this.#settle();
    this.twin?.follow(this.zoom, this.middle);
  }

  move(dx, dy) {
    if (this.zoom === null) return;
    this.middle = this.#held([this.middle[0] + dx / this.zoom, this.middle[1] + dy / this.zoom]);
    this.#paint();
    this.refresh();
    this.twin?.follow(this.zoom, this.middle);
  }

  /** The point of the stamp, in its own px, that lies at a place of the canvas. */
  pointAt(x, y) {
    const [left, top] = this.#corner();
    return [(x - left) / this.scale, (y - top) / this.scale];
  }

  #fitting() {
    const { clientWidth, clientHeight } = this.canvas;
    return Math.min(clientWidth / this.stamp.width, clientHeight / this.stamp.height);
  }

  #held([x, y]) {
    const wide = this.canvas.clientWidth / 2 / this.zoom;
    const high = this.canvas.clientHeight / 2 / this.zoom;
    const within = (value, half, whole) =>
      half * 2 >= whole ? whole / 2 : Math.min(whole - half, Math.max(half, value));
    return [within(x, wide, this.stamp.width), within(y, high, this.stamp.height)];
  }

  /** Where the stamp's corner lies, in css px. */
  #corner() {
    const [x, y] = this.middle ?? [this.stamp.width / 2, this.stamp.height / 2];
    return [
      this.canvas.clientWidth / 2 - x * this.scale,
      this.canvas.clientHeight / 2 - y * this.scale,
    ];
  }

  /** The part of the stamp that is seen, at the pixels in which it is seen. */
  #wish() {
    const pixels = window.devicePixelRatio || 1;
    const width = Math.max(1, Math.round(this.stamp.width * this.scale * pixels));
    const perPx = width / this.stamp.width;
    const height = Math.max(1, Math.round(this.stamp.height * perPx));
    const [left, top] = this.#corner().map((value) => Math.round(-value * pixels));
    const from = [Math.max(0, left), Math.max(0, top)];
    const to = [
      Math.min(width, left + this.canvas.width),
      Math.min(height, top + this.canvas.height),
    ];
    const size = [Math.max(1, to[0] - from[0]), Math.max(1, to[1] - from[1])];
    return { width, perPx, seen: [...from, ...size], whole: [width, height] };
  }

  /** Ask for what isn't there of what is seen now, part by part. */
  async #fetch({ layer, since }) {
    if (!this.stamp || !this.canvas.width) return;
    const { width, perPx, seen, whole } = this.#wish();
    const patches = this.layers[layer];
    const stamp = this.stamp.name;
    const wish = { ...called(this.stamp), width, style: this.style };
    if (layer === "exact") wish.exact = true;
    else Object.assign(wish, { changes: this.turned, again: this.again });
    const key = JSON.stringify([wish, this.stamp.version]);
    const window = this.zoom === null ? seen : patches.missing(key, seen, whole);
    if (window === null) return;
    try {
      if (layer === "ink") this.waits = true;
      const bitmap = await picture(this.place, { ...wish, window }).finally(() => {
        if (layer === "ink") this.waits = false;
      });
      if (stamp !== this.stamp?.name) return;
      if (bitmap === null) {
        setTimeout(() => this.refresh(since)); // it was let go, though it is what is looked at
        return;
      }
      const patch = { bitmap, key, perPx, window };
      patches.add(patch);
      const isAll = this.zoom === null || patches.missing(key, seen, whole) === null;
      if (isAll) patches.list = patches.list.filter((one) => one.key === key);
      this.#paint();
      if (!isAll) this.refresh(since);
      else if (layer === "ink") this.drawn(performance.now() - since);
    } catch (problem) {
      this.told(problem.message);
    }
  }

  #paint() {
    const context = this.canvas.getContext("2d");
    context.clearRect(0, 0, this.canvas.width, this.canvas.height);
    if (!this.stamp) return;
    const style = getComputedStyle(this.canvas);
    const pixels = window.devicePixelRatio || 1;
    const [x, y] = this.#corner().map((value) => value * pixels);
    const scale = this.scale * pixels;
    context.fillStyle = this.stamp.paper ?? style.getPropertyValue("--sheet");
    context.fillRect(x, y, this.stamp.width * scale, this.stamp.height * scale);
    const colours = { ink: style.getPropertyValue("--ink"), exact: style.getPropertyValue("--exact") };
    const layers = this.isBare ? ["exact"] : this.showsExact ? ["ink", "exact"] : ["ink"];
    for (const layer of layers) {
      context.globalAlpha = layer === "exact" && !this.isBare ? 0.55 : 1;
      for (const patch of this.layers[layer].list) {
        patch.tinted = patch.colour === colours[layer] ? patch.tinted : tinted(patch.bitmap, colours[layer]);
        patch.colour = colours[layer];
        this.#lay(context, patch, [x, y], scale);
      }
      context.globalAlpha = 1;
    }
    if (this.found) this.#paintFound(context, [x, y], scale, style);
  }

  #paintFound(context, [left, top], scale, style) {
    const pixels = window.devicePixelRatio || 1;
    const at = (x, y) => [left + x * scale, top + y * scale];
    const { across, down, places } = this.found;
    markCells(context, across, down, at, { pixels, colour: style.getPropertyValue("--quiet") });
    const bounds = [this.canvas.width, this.canvas.height];
    const [ink, sheet] = ["--ink", "--sheet"].map((name) => style.getPropertyValue(name));
    const fit = writeNames(context, places, at, { pixels, ink, sheet, bounds });
    this.found.told(fit, places.length);
  }

  /** Lay a part on the sheet, in place of what lies below it. */
  #lay(context, { perPx, window, bitmap, tinted: picture }, [x, y], scale) {
    const [left, top, width, height] = window.map((value) => (value / perPx) * scale);
    const isWhole = Math.abs(width - bitmap.width) < 0.51;
    const at = isWhole ? [Math.round(x) + window[0], Math.round(y) + window[1]] : [x + left, y + top];
    const size = isWhole ? [bitmap.width, bitmap.height] : [width, height];
    context.imageSmoothingEnabled = !isWhole;
    if (context.globalAlpha === 1) context.fillRect(...at, ...size);
    context.drawImage(picture, ...at, ...size);
  }

  repaint() {
    this.#paint();
  }

  #settle() {
    clearTimeout(this.settling);
    this.settling = setTimeout(() => this.refresh(), SETTLED_MS);
  }

  #resized() {
    const pixels = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(this.canvas.clientWidth * pixels);
    this.canvas.height = Math.round(this.canvas.clientHeight * pixels);
    if (!this.stamp) return;
    if (this.zoom !== null) this.middle = this.#held(this.middle);
    this.#paint();
    this.#settle();
  }

  #listen() {
    const canvas = this.canvas;
    canvas.addEventListener(
      "wheel",
      (event) => {
        if (!this.stamp) return;
        event.preventDefault();
        this.zoomTo(this.scale * 1.0015 ** -event.deltaY, [event.offsetX, event.offsetY]);
      },
      { passive: false },
    );
    const fingers = new Map();
    let apart = 0;
    let path = 0;
    canvas.addEventListener("pointerdown", (event) => {
      if (!fingers.size) [path, this.wasMoved] = [0, false];
      canvas.setPointerCapture(event.pointerId);
      fingers.set(event.pointerId, [event.offsetX, event.offsetY]);
      apart = distance(fingers);
    });
    canvas.addEventListener("pointermove", (event) => {
      const before = fingers.get(event.pointerId);
      if (!before || !this.stamp) return;
      fingers.set(event.pointerId, [event.offsetX, event.offsetY]);
      path += Math.hypot(event.offsetX - before[0], event.offsetY - before[1]);
      this.wasMoved = path > STILL || fingers.size > 1;
      if (fingers.size === 2) {
        const now = distance(fingers);
        if (apart > 0) this.zoomTo((this.scale * now) / apart, middleOf(fingers));
        apart = now;
      } else {
        this.move(before[0] - event.offsetX, before[1] - event.offsetY);
      }
    });
    for (const end of ["pointerup", "pointercancel"]) {
      canvas.addEventListener(end, (event) => fingers.delete(event.pointerId));
    }
    canvas.addEventListener("keydown", (event) => {
      const far = 60;
      const moves = {
        ArrowLeft: [-far, 0],
        ArrowRight: [far, 0],
        ArrowUp: [0, -far],
        ArrowDown: [0, far],
      };
      if (!this.stamp || event.ctrlKey || event.metaKey || event.altKey) return;
      if (moves[event.key]) this.move(...moves[event.key]);
      else if (event.key === "+" || event.key === "=") this.zoomTo(this.scale * STEP);
      else if (event.key === "-") this.zoomTo(this.scale / STEP);
      else if (event.key === "0") this.zoomTo(null);
      else return;
      event.preventDefault();
    });
  }
}

function distance(fingers) {
  if (fingers.size !== 2) return 0;
  const [a, b] = [...fingers.values()];
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function middleOf(fingers) {
  const [a, b] = [...fingers.values()];
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}
