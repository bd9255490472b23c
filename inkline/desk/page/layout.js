// The layout as a form: a row for each key of the recipe, and what is usual where it says nothing.

import { read } from "./asking.js";
import { element } from "./elements.js";
import { Rows } from "./rows.js";

const LETTERS = "Letters";
const FONTS = ".ttf,.otf,.woff,.woff2";

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
    Object.assign(this, { form, notes, brought, told });
    this.rows = new Rows({ typed, mend });
    this.opened = new Set();
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
    this.rows.faults = faults;
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
    place.append(...rows.filter((row) => row.first).map((row) => this.rows.row(row)));
    if (title === LETTERS) place.append(...this.#fonts());
    const rest = rows.filter((row) => !row.first);
    if (rest.length) {
      const fold = element("details", {}, element("summary", {}, `${rest.length} more`));
      fold.open = this.opened.has(title) || rest.some((row) => this.rows.wrongWith(row).length);
      fold.addEventListener("toggle", () =>
        fold.open ? this.opened.add(title) : this.opened.delete(title),
      );
      fold.append(...rest.map((row) => this.rows.row(row)));
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
}
