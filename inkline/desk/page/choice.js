// Other drawings of one thing: a numeral, a rule, a block or a word, to choose from.

import { called, picture, send } from "./asking.js";
import { tinted } from "./picture.js";

const AT_ONCE = 6;
const MARGIN = 0.18; // of the thing's larger side, about it
const WIDE = 96; // css px

/** The panel of choices for the stamp that is looked at. */
export class Choice {
  /** `chosen` hears of the name and of how often it is drawn again; `tried` of the same before. */
  constructor({ panel, marks, list, more, close, own, nudging, chosen, drawn, told }) {
    Object.assign(this, { panel, marks, list, nudging, chosen, told });
    this.state = { shifts: {}, swaps: {}, again: {} };
    this.stamp = null;
    this.places = [];
    this.first = 0;
    marks.addEventListener("change", () => this.#offer(0));
    more.addEventListener("click", () => this.#offer(this.first + AT_ONCE));
    close.addEventListener("click", () => this.close());
    own.addEventListener("change", () => this.#bring(own.files[0]));
    panel.addEventListener("dragover", (event) => event.preventDefault());
    panel.addEventListener("drop", (event) => {
      event.preventDefault();
      this.#bring(event.dataTransfer.files[0]);
    });
    this.drawn = drawn;
  }

  get isOpen() {
    return !this.panel.hidden;
  }

  /** Take what the recipe says now. */
  look(state) {
    this.state = state;
    if (this.isOpen && this.marks.value && !this.stamp.artwork) {
      this.nudging.show(this.marks.value, state);
    }
  }

  close() {
    this.panel.hidden = true;
  }

  /** Open for what lies at a point of the stamp, or for the first thing on it. */
  async open(stamp, point = null) {
    try {
      await this.#take(stamp);
    } catch (problem) {
      this.told(problem.message);
      return;
    }
    const at = point && this.#at(point);
    if (point && !at) return;
    this.panel.hidden = false;
    this.panel.classList.toggle("of-artwork", Boolean(stamp.artwork));
    this.marks.value = (at ?? this.places[0]).name;
    await this.#offer(0);
    this.panel.scrollIntoView({ block: "nearest" });
  }

  /** Put a drawing of hers in the place of what lies at a point; whether anything does. */
  async drop(stamp, point, file) {
    if (stamp.artwork) return false;
    try {
      await this.#take(stamp);
    } catch {
      return false;
    }
    const at = this.#at(point);
    if (at) this.drawn(at.name, file);
    return Boolean(at);
  }

  /** Put a drawing of hers in the place of what is looked at. */
  #bring(file) {
    if (file) this.drawn(this.marks.value, file);
  }

  async #take(stamp) {
    if (this.stamp?.name === stamp.name && this.version === stamp.version) return;
    this.places = await (await send("/places", called(stamp))).json();
    this.stamp = stamp;
    this.marks.replaceChildren(
      ...this.places.map(({ name }) => {
        const option = document.createElement("option");
        option.value = name;
        option.textContent = name.slice(called(stamp).stamp.length + 1).replaceAll("-", " ") || name;
        return option;
      }),
    );
  }

  #at([x, y]) {
    const within = this.places.filter(({ box: [left, top, width, height] }) => {
      const reach = 0.02 * this.stamp.width;
      return (
        x > left - reach && x < left + width + reach && y > top - reach && y < top + height + reach
      );
    });
    const area = ({ box }) => box[2] * box[3];
    return within.sort((a, b) => area(a) - area(b))[0] ?? null;
  }

  async #offer(first) {
    this.first = first;
    const place = this.places.find(({ name }) => name === this.marks.value);
    if (!place) return;
    if (this.stamp.artwork) this.nudging.panel.hidden = true;
    else this.nudging.show(place.name, this.state).catch((problem) => this.told(problem.message));
    const counts = Array.from({ length: AT_ONCE }, (_, index) => first + index);
    const now = this.state.again[place.name] ?? 0;
    const labels = counts.map((count) => this.#label(place, count, count === now));
    this.list.replaceChildren(...labels);
    for (const label of labels) {
      if (!this.list.contains(label)) return; // others are offered already
      await this.#paint(label, place).catch((problem) => this.told(problem.message));
    }
  }

  #label(place, count, isNow) {
    const label = document.createElement("label");
    const input = document.createElement("input");
    const canvas = document.createElement("canvas");
    input.type = "radio";
    input.name = "choice";
    input.value = count;
    input.checked = isNow;
    input.setAttribute("aria-label", count ? `Drawing ${count + 1}` : "The first drawing");
    input.addEventListener("change", () => this.chosen(place.name, count || null));
    label.append(canvas, input);
    return label;
  }

  async #paint(label, { name, box }) {
    const [left, top, width, height] = box;
    const canvas = label.querySelector("canvas");
    const pixels = window.devicePixelRatio || 1;
    const margin = Math.max(width, height) * MARGIN + 0.01 * this.stamp.width;
    const seen = [Math.max(width, height * 0.5) + 2 * margin, height + 2 * margin];
    const scale = Math.min((WIDE * pixels) / seen[0], (2 * WIDE * pixels) / seen[1]);
    const window_ = [
      Math.round((left + width / 2 - seen[0] / 2) * scale),
      Math.round((top - margin) * scale),
      ...seen.map((side) => Math.max(1, Math.round(side * scale))),
    ];
    const bitmap = await picture("/sketch", {
      ...called(this.stamp),
      width: Math.round(this.stamp.width * scale),
      window: window_,
      again: { [name]: Number(label.querySelector("input").value) },
    });
    canvas.width = bitmap.width;
    canvas.height = bitmap.height;
    const colour = getComputedStyle(canvas).getPropertyValue("--ink");
    canvas.getContext("2d").drawImage(tinted(bitmap, colour), 0, 0);
  }
}
