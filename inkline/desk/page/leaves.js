// Hand, nib, edge and paper: a leaf for each, a few controls on it, all others folded away.

import { element } from "./elements.js";

const WORDS = {
  hand: ["Hand", "where the point goes"],
  nib: ["Nib", "how wide the ink is along the stroke"],
  edge: ["Edge", "where ink meets paper"],
  paper: ["Paper", "what the paper leaves bare"],
  firmness: ["Sureness", "how sure the hand is of each kind of mark"],
};
const STEPS = 400;
const FIGURES = 3;

/** The value at a step of a control's slider, and back. */
function valueAt(control, step) {
  const way = step / STEPS;
  return Number(
    (control.start + (control.end - control.start) * way ** control.steepness).toPrecision(FIGURES),
  );
}

function stepAt(control, value) {
  const way = (value - control.start) / (control.end - control.start);
  return Math.round(STEPS * Math.min(1, Math.max(0, way)) ** (1 / control.steepness));
}

/** A value with its unit, as a person reads it. */
export function inWords(control, value) {
  if (typeof value === "string") return value;
  const text = (number) => String(Number(number.toPrecision(FIGURES)));
  if (control.unit === "mm" && Math.abs(value) < 1) return `${text(value * 1000)} µm`;
  return control.unit ? `${text(value)} ${control.unit}` : text(value);
}

/** The leaves in `form`; `turning` hears of each step, `turned` of the value that is kept. */
export class Leaves {
  constructor(form, controls, { turning, turned }) {
    this.rows = new Map();
    this.turning = turning;
    this.turned = turned;
    for (const [part, list] of Object.entries(controls)) form.append(this.#leaf(part, list));
  }

  /** Show the values of a style. */
  show(values) {
    for (const [key, row] of this.rows) row.show(values[key]);
  }

  #leaf(part, list) {
    const [title, about] = WORDS[part];
    const leaf = element("fieldset", { class: "leaf", "data-part": part });
    leaf.append(element("legend", {}, title, element("span", {}, ` ${about}`)));
    const first = list.filter((control) => control.first);
    const rest = list.filter((control) => !control.first);
    leaf.append(...first.map((control) => this.#row(control)));
    if (rest.length) {
      const fold = element("details");
      fold.append(element("summary", {}, `${rest.length} more`));
      fold.append(...rest.map((control) => this.#row(control)));
      leaf.append(fold);
    }
    return leaf;
  }

  #row(control) {
    return control.options.length ? this.#choice(control) : this.#slider(control);
  }

  #slider(control) {
    const id = `turn-${control.key.replace(".", "-")}`;
    const input = element("input", {
      type: "range",
      id,
      min: 0,
      max: STEPS,
      step: 1,
      title: control.about,
    });
    const shown = element("output", { for: id });
    const row = element("div", { class: "row" });
    row.append(element("label", { for: id, title: control.about }, control.label), shown, input);
    const say = (value) => {
      shown.value = inWords(control, value);
      input.setAttribute("aria-valuetext", inWords(control, value));
      input.style.setProperty("--way", `${(100 * stepAt(control, value)) / STEPS}%`);
    };
    input.addEventListener("input", () => {
      const value = valueAt(control, Number(input.value));
      say(value);
      this.turning(control.key, value);
    });
    input.addEventListener("change", () =>
      this.turned(control.key, valueAt(control, Number(input.value)), control),
    );
    this.rows.set(control.key, {
      show: (value) => {
        input.value = stepAt(control, value);
        say(value);
      },
    });
    return row;
  }

  #choice(control) {
    const id = `turn-${control.key.replace(".", "-")}`;
    const input = element("select", { id, title: control.about });
    input.append(...control.options.map((name) => element("option", { value: name }, name)));
    const row = element("div", { class: "row" });
    row.append(element("label", { for: id, title: control.about }, control.label), input);
    input.addEventListener("change", () => this.turned(control.key, input.value, control));
    this.rows.set(control.key, { show: (value) => (input.value = value) });
    return row;
  }
}
