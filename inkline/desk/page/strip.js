// The strip of all stamps, each drawn small when it comes into sight.

import { called, picture } from "./asking.js";
import { tinted } from "./picture.js";

const HIGH = 76;
const QUIET_MS = 700; // without a change before all are drawn again

/** The strip in `list`; `chosen` hears of the stamp that is looked at; drawn `after` that. */
export class Strip {
  constructor(list, { chosen, after }) {
    this.list = list;
    this.chosen = chosen;
    this.after = after;
    this.items = new Map();
    this.waiting = new Map();
    this.drawing = false;
    this.seen = new IntersectionObserver((entries) => this.#sighted(entries), {
      root: list.parentElement,
      rootMargin: "200px",
    });
    list.addEventListener("keydown", (event) => this.#key(event));
  }

  /** Show these stamps as drawn in this version of the recipe. */
  show(stamps, version, current) {
    const names = stamps.map(({ name, width, height }) => [name, width, height]).join("\n");
    if (names !== this.names) this.#build(stamps);
    this.names = names;
    this.version = version;
    for (const [name, item] of this.items) {
      item.button.setAttribute("aria-current", String(name === current));
      item.button.tabIndex = name === current ? 0 : -1;
      if (name === current && name !== this.current) {
        this.#bringIntoSight(item.button);
      }
    }
    this.current = current;
    clearTimeout(this.later);
    this.later = setTimeout(() => {
      for (const [name, item] of this.items) if (item.inSight) this.#want(name);
    }, QUIET_MS);
  }

  #build(stamps) {
    const before = this.items;
    this.seen.disconnect();
    this.items = new Map();
    this.list.replaceChildren();
    let group = null;
    for (const stamp of stamps) {
      if (stamp.group !== group) {
        group = stamp.group;
        const heading = document.createElement("li");
        heading.className = "group";
        heading.textContent = group;
        this.list.append(heading);
      }
      this.list.append(this.#kept(before.get(stamp.name), stamp) ?? this.#item(stamp));
    }
  }

  /** The place of a stamp that was there before, unless it has another shape now. */
  #kept(item, stamp) {
    if (!item || item.stamp.width !== stamp.width || item.stamp.height !== stamp.height) return null;
    item.stamp = stamp;
    this.items.set(stamp.name, item);
    this.seen.observe(item.button);
    return item.button.parentElement;
  }

  #item(stamp) {
    const item = document.createElement("li");
    const button = document.createElement("button");
    const canvas = document.createElement("canvas");
    const words = document.createElement("span");
    button.type = "button";
    const pixels = window.devicePixelRatio || 1;
    const wide = Math.min(150, (HIGH * stamp.width) / stamp.height);
    canvas.width = Math.round(wide * pixels);
    canvas.height = Math.round(((wide * stamp.height) / stamp.width) * pixels);
    canvas.style.width = `${wide}px`;
    words.textContent = stamp.label;
    words.className = "unseen";
    button.title = stamp.label;
    button.append(canvas, words);
    button.dataset.stamp = stamp.name;
    button.addEventListener("click", () => this.chosen(stamp.name));
    item.append(button);
    this.items.set(stamp.name, { stamp, button, canvas, version: -1, inSight: false });
    this.seen.observe(button);
    return item;
  }

  #sighted(entries) {
    for (const entry of entries) {
      const item = this.items.get(entry.target.dataset.stamp);
      if (!item) continue;
      item.inSight = entry.isIntersecting;
      if (item.inSight) this.#want(item.stamp.name);
    }
  }

  #want(name) {
    const item = this.items.get(name);
    if (item.version === this.version) return;
    this.waiting.set(name, item);
    this.#work();
  }

  async #work() {
    if (this.drawing) return;
    this.drawing = true;
    await this.after;
    while (this.waiting.size) {
      const name = this.#nextName();
      const item = this.waiting.get(name);
      this.waiting.delete(name);
      if (!item.inSight || !this.items.has(name)) continue;
      const { version } = this;
      try {
        const bitmap = await picture("/sketch", { ...called(item.stamp), width: item.canvas.width });
        item.version = version;
        this.#paint(item, bitmap);
      } catch {
        break; // the recipe has a fault, which is shown elsewhere
      }
    }
    this.drawing = false;
  }

  /** Of those that wait, what is looked at, then her own artwork, then the others in their order. */
  #nextName() {
    const names = [...this.waiting.keys()];
    const own = names.find((name) => this.waiting.get(name).stamp.artwork);
    return this.waiting.has(this.current) ? this.current : (own ?? names[0]);
  }

  #paint(item, bitmap) {
    item.bitmap = bitmap;
    const colour = getComputedStyle(item.canvas).getPropertyValue("--ink");
    const context = item.canvas.getContext("2d");
    context.clearRect(0, 0, item.canvas.width, item.canvas.height);
    if (item.stamp.paper) {
      context.fillStyle = item.stamp.paper;
      context.fillRect(0, 0, item.canvas.width, item.canvas.height);
    }
    context.drawImage(tinted(bitmap, colour), 0, 0, item.canvas.width, item.canvas.height);
  }

  /** Paint all again, in the colours of now. */
  repaint() {
    for (const item of this.items.values()) if (item.bitmap) this.#paint(item, item.bitmap);
  }

  /** Move the strip, and not the page, so that this is seen. */
  #bringIntoSight(button) {
    const strip = this.list.parentElement;
    const [own, seen] = [button.getBoundingClientRect(), strip.getBoundingClientRect()];
    if (own.left < seen.left) strip.scrollLeft -= seen.left - own.left + 12;
    else if (own.right > seen.right) strip.scrollLeft += own.right - seen.right + 12;
  }

  #key(event) {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (!step) return;
    event.preventDefault();
    const buttons = [...this.list.querySelectorAll("button")];
    const next = buttons[buttons.indexOf(document.activeElement) + step];
    if (!next) return;
    next.focus();
    this.#bringIntoSight(next);
    this.chosen(next.dataset.stamp);
  }
}
