// The layout as a form: a row for each key of the recipe, and what is usual where it says nothing.

import { read } from "./asking.js";
import { faultLine } from "./remedies.js";

const LETTERS = "Letters";
const FONTS = ".ttf,.otf,.woff,.woff2";

function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** Lines of text, each a paragraph. */
function paragraphs(text, attributes) {
  return text.split("\n").map((line) => element("p", attributes, line));
}

/**
 * The layout in `form`, with notes on it in `notes`.
 *
 * `typed` hears of the way to a key and what was typed, or null; `mend` of a key's path and its
 * value; `brought` of a font file.
 */
export class Layout {
  constructor(form, { notes, typed, mend, brought, told }) {
    Object.assign(this, { form, notes, typed, mend, brought, told });
    this.opened = new Set();
    this.faults = [];
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("dragover", (event) => event.preventDefault());
    form.addEventListener("drop", (event) => {
      event.preventDefault();
      const [file] = event.dataTransfer.files;
      if (file) brought(file);
    });
  }

  /** Show what the recipe says, and what is wrong with it. */
  async show(faults) {
    this.faults = faults;
    try {
      const tables = await read("/layout");
      const focused = document.activeElement?.id;
      this.form.replaceChildren(...tables.map((table) => this.#table(table)));
      if (focused) document.getElementById(focused)?.focus();
      await this.#remark(faults.length ? { notes: [], licences: [] } : await read("/remarks"));
    } catch (problem) {
      this.told(problem.message);
    }
  }

  #remark({ notes, licences }) {
    this.notes.hidden = !notes.length;
    this.notes.replaceChildren(...notes.map((note) => element("li", {}, note)));
    const said = licences.flatMap((text) => paragraphs(text, {}));
    document.getElementById("licences")?.replaceChildren(...said);
  }

  #table({ title, rows }) {
    const place = element("section", { class: "layout-table" }, element("h2", {}, title));
    place.append(...rows.filter((row) => row.first).map((row) => this.#row(row)));
    if (title === LETTERS) place.append(...this.#fonts());
    const rest = rows.filter((row) => !row.first);
    if (rest.length) {
      const fold = element("details", {}, element("summary", {}, `${rest.length} more`));
      fold.open = this.opened.has(title) || rest.some((row) => this.#wrongWith(row).length);
      fold.addEventListener("toggle", () =>
        fold.open ? this.opened.add(title) : this.opened.delete(title),
      );
      fold.append(...rest.map((row) => this.#row(row)));
      place.append(fold);
    }
    return place;
  }

  #fonts() {
    const input = element("input", { type: "file", id: "font-file", accept: FONTS });
    input.addEventListener("change", () => input.files[0] && this.brought(input.files[0]));
    const bring = element("label", { class: "bring", for: "font-file" }, "A font of yours", input);
    const about = element("p", { class: "aside" });
    about.append(
      "Drop a font file here, or choose one. Its own words on its licence are shown; ",
      "the licence text decides.",
    );
    return [bring, about, element("div", { id: "licences", class: "licences" })];
  }

  #wrongWith(row) {
    const path = row.way.join(".");
    return this.faults.filter(({ key }) => key === path || key.startsWith(`${path}.`));
  }

  #row(row) {
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
    place.append(about, ...this.#wrongWith(row).map((fault) => faultLine(fault, this.mend)));
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
