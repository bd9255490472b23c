// Rows of a form, one for each key of the recipe: what it says, or what is usual where it doesn't.

import { element } from "./elements.js";
import { faultLine } from "./remedies.js";

/**
 * Makes rows.
 *
 * `typed` hears of the way to a key and what was typed, or null for the usual; `mend` of a key's
 * path and its value.
 */
export class Rows {
  constructor({ typed, mend }) {
    Object.assign(this, { typed, mend });
    this.faults = [];
  }

  /** What is wrong with what stands in a row. */
  wrongWith(row) {
    const path = row.way.join(".");
    return this.faults.filter(({ key }) => key === path || key.startsWith(`${path}.`));
  }

  /** The row of a key. */
  row(row) {
    const id = `set-${row.way.join("-")}`;
    const about = element("p", { class: "about", id: `${id}-about` }, row.about);
    const place = element("div", { class: "typed" });
    if (Object.keys(row.named).length) {
      place.append(this.#languages(row, id));
    } else if (row.options.length && row.several) {
      place.append(this.#several(row, id));
    } else {
      const input = row.options.length ? this.#choice(row, id) : this.#text(row, id);
      input.setAttribute("aria-describedby", `${id}-about`);
      place.append(element("label", { for: id }, row.label), input);
    }
    if (!row.said) place.classList.add("usual");
    place.append(about, ...this.wrongWith(row).map((fault) => faultLine(fault, this.mend)));
    return place;
  }

  #text(row, id) {
    const input = element("input", { type: "text", id, placeholder: row.usual, spellcheck: "false" });
    input.value = row.said ? row.text : "";
    input.addEventListener("change", () =>
      this.typed(row.way, input.value.trim() === "" ? null : input.value),
    );
    return input;
  }

  #choice(row, id) {
    const input = element("select", { id });
    input.append(...row.options.map((name) => element("option", { value: name }, name)));
    input.value = row.text;
    input.addEventListener("change", () =>
      this.typed(row.way, input.value === row.usual ? null : input.value),
    );
    return input;
  }

  #languages(row, id) {
    const now = row.text.split(", ").filter(Boolean);
    const group = element("fieldset", {}, element("legend", { class: "unseen" }, row.label));
    const chosen = element("span", { class: "several" });
    for (const code of now) {
      const name = row.named[code] ?? code;
      const out = element("button", { type: "button", "aria-label": `Without ${name}` }, `${name} ×`);
      out.disabled = now.length === 1;
      out.addEventListener("click", () => this.typed(row.way, now.filter((one) => one !== code)));
      chosen.append(out);
    }
    const more = element("select", { id, "aria-label": "Another language" });
    more.append(element("option", { value: "" }, "Another …"));
    for (const [code, name] of Object.entries(row.named)) {
      if (!now.includes(code)) more.append(element("option", { value: code }, name));
    }
    more.addEventListener("change", () => more.value && this.typed(row.way, [...now, more.value]));
    chosen.append(more);
    group.append(element("span", { "aria-hidden": "true" }, row.label), chosen);
    return group;
  }

  #several(row, id) {
    const group = element("fieldset", {}, element("legend", { class: "unseen" }, row.label));
    const boxes = element("span", { class: "several" });
    const chosen = new Set(row.text.split(", "));
    for (const name of row.options) {
      const box = element("input", { type: "checkbox", id: `${id}-${name}`, value: name });
      box.checked = chosen.has(name);
      box.addEventListener("change", () => {
        const now = [...boxes.querySelectorAll("input:checked")].map((one) => one.value);
        if (now.length) this.typed(row.way, now);
        else box.checked = true;
      });
      boxes.append(element("label", {}, box, ` ${name}`));
    }
    group.append(element("span", { "aria-hidden": "true" }, row.label), boxes);
    return group;
  }
}
