// Artwork of hers: brought, told what was found in it, drawn in the recipe's ink, and taken away.

import { bring, latestOnly, read, send } from "./asking.js";
import { element } from "./elements.js";
import { MadeArtwork } from "./artwork-making.js";
import { faultLine } from "./remedies.js";
import { Rows } from "./rows.js";

const by = (id) => document.getElementById(id);
const GROUNDS = {
  black: "White ink on black, as stamps are",
  white: "In its own colours, on white",
  clear: "In its own colours, on nothing",
};
const SOON_MS = 250; // what takes longer is told
const FOLDED = ["lines", "split", "drawn_at", "ppi", "colours", "pages", "overlay"];
const ENDINGS = /\.(svgz?|pdf|png|jpe?g|tiff?|webp)$/i;
const way = (key) => ["finish", key];

function button(text, pressed) {
  const made = element("button", { type: "button" }, text);
  made.addEventListener("click", pressed);
  return made;
}

/** Whether a file is called as artwork is. */
export function isArtwork(file) {
  return ENDINGS.test(file.name);
}

/**
 * The panel of artwork.
 *
 * `typed` hears of the way to a key and what it is set to, or null; `mend` of a key and its value;
 * `change` asks for a change; `taken` hears of what the recipe then says; `found` of the pictures;
 * `names` of what is shown in place of the ink, or null; `busy` of whether it is being read.
 */
export class Artwork {
  constructor({ typed, mend, change, taken, found, names, busy, told }) {
    Object.assign(this, { typed, change, taken, found, names, busy, told });
    this.rows = new Rows({ typed, mend });
    this.pictures = [];
    this.isOpen = false;
    this.making = new MadeArtwork({ told });
    this.ask = latestOnly(() => this.#look());
    by("artwork-file").addEventListener("change", (event) => {
      this.bring([...event.target.files]);
      event.target.value = "";
    });
    by("artwork-names").addEventListener("click", () => this.#showNames(!this.showsNames));
    this.#listenToCells();
  }

  /** Take what the recipe says now. */
  show(state) {
    this.state = state;
    if (state.artwork === undefined) return;
    if (state.artwork.length || this.pictures.length || this.isOpen) this.ask();
  }

  /** Show the panel, or let it be. */
  open(isOpen) {
    this.isOpen = isOpen;
    if (isOpen) {
      this.ask();
      this.making.look();
    } else {
      this.#showNames(false);
    }
  }

  /** Have files of hers drawn. */
  async bring(files) {
    for (const file of files) {
      this.#reading(`Reading ${file.name} …`);
      try {
        this.taken(await (await bring("/artwork/bring", file)).json(), file.name);
      } catch (problem) {
        this.told(problem.message);
      }
    }
    this.#reading("");
  }

  #reading(words) {
    by("artwork-reading").textContent = words;
    this.busy(words !== "");
  }

  /** The picture that is looked at has changed. */
  look(stamp) {
    this.current = this.pictures.find(({ name }) => name === stamp?.artwork) ?? null;
    if (this.showsNames) this.#showNames(Boolean(this.current));
  }

  async #look() {
    const version = this.state?.version;
    const waiting = setTimeout(() => this.#reading("Reading it again …"), SOON_MS);
    try {
      const said = await read("/artwork");
      if (version !== this.state?.version) return;
      this.pictures = said.pictures;
      this.key = said.key;
      this.ground = said.rows.ground.text;
      this.#show(said);
      this.found(said);
    } catch (problem) {
      this.told(problem.message);
    } finally {
      clearTimeout(waiting);
      this.#reading("");
    }
  }

  #show(said) {
    const focused = document.activeElement?.id;
    this.rows.faults = this.state.faults;
    by("artwork-faults").hidden = !said.faults.length;
    by("artwork-faults").replaceChildren(
      ...said.faults.map((fault) => faultLine(fault, this.rows.mend)),
    );
    by("artwork-files").replaceChildren(
      ...said.files.map((name) => {
        const leave = button("Take it off", () => this.change("/artwork/leave", { name }));
        leave.setAttribute("aria-label", `Take ${name} off`);
        return element("li", {}, name, " ", leave);
      }),
    );
    by("artwork-told").hidden = !said.pictures.length;
    this.#tell(said);
    this.#showCells(said);
    this.#showWays(said);
    if (focused && document.activeElement?.id !== focused) by(focused)?.focus();
  }

  /** What was found, and what is beyond ink. */
  #tell({ pictures, rows }) {
    by("artwork-words").replaceChildren(
      ...pictures.map((one) => {
        const lines = one.words.map((line) => element("p", {}, line));
        if (!one.is_drawn) lines.push(element("p", {}, "Nothing in it can be drawn."));
        return element("li", {}, element("h3", {}, one.name), ...lines);
      }),
    );
    const lacks = pictures.flatMap(({ name, lacks: own }) =>
      own.map((line) => (pictures.length > 1 ? `${name}: ${line}` : line)),
    );
    by("artwork-beyond").hidden = !lacks.length;
    by("artwork-lacks").replaceChildren(...lacks.map((line) => element("li", {}, line)));
    const isPlain = rows.beyond_ink.text === "plain";
    by("artwork-plain").replaceChildren(
      button(isPlain ? "Leave it out" : "Draw its nearest plain thing", () =>
        this.typed(way("beyond_ink"), isPlain ? null : "plain"),
      ),
    );
  }

  /** What is set into the cells of a grid that was found. */
  #showCells({ pictures, rows }) {
    const said = rows.into_cells.text;
    const [what, value] = said.split("=");
    const grid = pictures.find(({ across }) => across.length);
    const cells = grid && [grid.across.length - 1, grid.down.length - 1];
    by("artwork-cells").hidden = !cells && !said;
    const select = by("cells-what");
    select.value = ["dates", "numerals"].includes(what) ? what : "";
    by("cells-month").hidden = select.value !== "dates";
    by("cells-run").hidden = select.value !== "numerals";
    if (what === "dates") by("cells-month").querySelector("input").value = value;
    if (what === "numerals") {
      [by("cells-first").value, by("cells-last").value] = value.split("-");
    } else if (cells) {
      by("cells-last").value = cells[0] * cells[1];
    }
    const faults = [...new Set(pictures.map(({ fault }) => fault).filter(Boolean))];
    by("cells-fault").hidden = !faults.length;
    by("cells-fault").replaceChildren(
      ...faults.map((sentence) => element("p", {}, sentence)),
      ...(faults.length ? [button("Leave its cells empty", () => this.typed(way("into_cells"), null))] : []),
    );
  }

  /** How it is drawn: its colours, its letters, and all else folded away. */
  #showWays({ pictures, rows, font }) {
    by("artwork-grounds").replaceChildren(
      ...Object.entries(GROUNDS).map(([name, words]) => {
        const input = element("input", { type: "radio", name: "artwork-ground", value: name, id: `ground-${name}` });
        input.checked = rows.ground.text === name;
        input.addEventListener("change", () => this.typed(way("ground"), name === "black" ? null : name));
        return element("label", {}, input, " ", words);
      }),
    );
    const fault = pictures.find(({ colour_fault: own }) => own)?.colour_fault;
    if (fault && rows.ground.text !== "black") {
      by("artwork-grounds").append(element("p", { class: "fault", role: "alert" }, fault));
    }
    const family = { ...rows.family, label: "letters" };
    const letters = font
      ? [element("p", { class: "aside" }, `Its text is set in ${font}, as the layout's.`)]
      : [this.rows.row(family)];
    by("artwork-letters").replaceChildren(...letters);
    by("artwork-rows").replaceChildren(...FOLDED.map((name) => this.rows.row(rows[name])));
  }

  #listenToCells() {
    const set = () => {
      const what = by("cells-what").value;
      by("cells-month").hidden = what !== "dates";
      by("cells-run").hidden = what !== "numerals";
      const month = by("cells-month").querySelector("input");
      const now = new Date();
      if (!month.value) {
        const next = now.getFullYear() * 12 + now.getMonth() + 1;
        month.value = `${Math.floor(next / 12)}-${String((next % 12) + 1).padStart(2, "0")}`;
      }
      const typed = {
        "": null,
        dates: `dates=${month.value}`,
        numerals: `numerals=${by("cells-first").value}-${by("cells-last").value}`,
      };
      this.typed(way("into_cells"), typed[what]);
    };
    for (const input of by("artwork-cells").querySelectorAll("select, input")) {
      input.addEventListener("change", set);
    }
  }

  /** Lay what was found, with its names, over the ink. */
  async #showNames(shows) {
    this.showsNames = shows && Boolean(this.current);
    by("artwork-names").setAttribute("aria-pressed", String(this.showsNames));
    if (!this.showsNames) {
      by("artwork-crowded").textContent = "";
      this.names(null);
      return;
    }
    const picture = this.current;
    try {
      const places = await (await send("/places", { stamp: picture.name, artwork: true })).json();
      if (!this.showsNames || picture !== this.current) return;
      const short = (name) => name.slice(picture.name.length + 1) || name;
      this.names({
        across: picture.across,
        down: picture.down,
        places: places.map(({ name, box }) => ({ label: short(name), box })),
        told: (fit, all) => {
          by("artwork-crowded").textContent =
            fit < all ? `${fit} of ${all} names have room; come nearer to see others.` : "";
        },
      });
    } catch (problem) {
      this.told(problem.message);
    }
  }
}
