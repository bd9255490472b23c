// The layout as a form: a row for each key of the recipe, and what is usual where it says nothing.

import { read } from "./asking.js";

function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** The layout in `form`; `typed` hears of the way to a key and what was typed, or null. */
export class Layout {
  constructor(form, { typed, told }) {
    this.form = form;
    this.typed = typed;
    this.told = told;
    this.opened = new Set();
    form.addEventListener("submit", (event) => event.preventDefault());
  }

  /** Show what the recipe says. */
  async show() {
    try {
      const tables = await read("/layout");
      const focused = document.activeElement?.id;
      this.form.replaceChildren(...tables.map((table) => this.#table(table)));
      if (focused) document.getElementById(focused)?.focus();
    } catch (problem) {
      this.told(problem.message);
    }
  }

  #table({ title, rows }) {
    const place = element("section", { class: "layout-table" }, element("h2", {}, title));
    place.append(...rows.filter((row) => row.first).map((row) => this.#row(row)));
    const rest = rows.filter((row) => !row.first);
    if (rest.length) {
      const fold = element("details", {}, element("summary", {}, `${rest.length} more`));
      fold.open = this.opened.has(title);
      fold.addEventListener("toggle", () =>
        fold.open ? this.opened.add(title) : this.opened.delete(title),
      );
      fold.append(...rest.map((row) => this.#row(row)));
      place.append(fold);
    }
    return place;
  }

  #row(row) {
    const id = `set-${row.way.join("-")}`;
    const about = element("p", { class: "about", id: `${id}-about` }, row.about);
    const place = element("div", { class: "typed" });
    if (row.options.length && row.several) {
      place.append(this.#several(row, id));
    } else {
      const input = row.options.length ? this.#choice(row, id) : this.#text(row, id);
      input.setAttribute("aria-describedby", `${id}-about`);
      place.append(element("label", { for: id }, row.label), input);
    }
    if (!row.said) place.classList.add("usual");
    place.append(about);
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
