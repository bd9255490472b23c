// A numeral that is moved in its cell, or drawn by another form of its figures.

import { send } from "./asking.js";

const STEP = 1; // px of the canvas
const FAR = 10;
const WAYS = { ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowRight: [1, 0], ArrowDown: [0, 1] };

function sideWords([right, lower]) {
  const words = [];
  if (right) words.push(`${Math.abs(right)} px to the ${right > 0 ? "right" : "left"}`);
  if (lower) words.push(`${Math.abs(lower)} px ${lower > 0 ? "down" : "up"}`);
  return words.join(", ") || "in its own place";
}

/** What can be done with the numeral that is looked at; `change` asks for a change. */
export class Nudging {
  constructor({ panel, moved, back, forms, change }) {
    Object.assign(this, { panel, moved, back, forms, change });
    for (const way of panel.querySelectorAll("[data-way]")) {
      way.addEventListener("click", (event) => this.#move(way.dataset.way, event.shiftKey));
    }
    panel.addEventListener("keydown", (event) => {
      if (!(event.key in WAYS) || event.target.tagName === "SELECT") return;
      event.preventDefault();
      this.#move(event.key, event.shiftKey);
    });
    back.addEventListener("click", () => this.change("/put-back", { name: this.name }));
  }

  /** Show what is so for `name`, or nothing where that is no numeral. */
  async show(name, { shifts, swaps }) {
    const [format, , text] = name.split("/");
    this.name = name;
    this.panel.hidden = !/^\d+$/.test(text ?? "");
    if (this.panel.hidden) return;
    const now = shifts[`${format}/${text}`] ?? [0, 0];
    this.moved.textContent = sideWords(now);
    this.back.disabled = !now.some(Boolean);
    await this.#offerForms(name, text, swaps);
  }

  #move(way, isFar) {
    const [right, lower] = WAYS[way].map((side) => side * (isFar ? FAR : STEP));
    this.change("/nudge", { name: this.name, right, lower });
  }

  async #offerForms(name, text, swaps) {
    const figures = [...new Set(text)].join("");
    const found = await (await send("/forms", { characters: figures })).json();
    if (this.name !== name) return;
    this.forms.replaceChildren(
      ...Object.entries(found).map(([character, names]) => {
        const select = document.createElement("select");
        const label = document.createElement("label");
        select.append(new Option("usual", ""), ...names.map((one) => new Option(one, one)));
        select.value = swaps[character] ?? "";
        select.addEventListener("change", () =>
          this.change("/form", { character, form: select.value || null }),
        );
        label.append(`Every ${character} `, select);
        return label;
      }),
    );
  }
}
