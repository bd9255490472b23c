// The kit that is made of the recipe: begun, followed, stopped, proved, shown and taken away.

import { read, send } from "./asking.js";
import { element } from "./elements.js";

const EVERY_MS = 400;
const by = (id) => document.getElementById(id);

/** What a remedy is called on its button, and what is asked for by it; no button for others. */
const REMEDIES = {
  "go on": () => ["Draw it here all the same", { all_the_same: true }],
  "other folder": (_, next) => [`Draw it into ${next} instead`, { elsewhere: true }],
  redraw: (name) => [`Draw ${name} anew`, { redraw: [name] }],
};
const BUSY = {
  kit: "Looking the recipe over …",
  prove: "Measuring every stamp …",
  shop: "Laying the pictures out …",
};

/** What came of a folder. */
export function kitWords({ folder, drawn, unchanged, kept, faults, changes }) {
  const parts = [`${drawn} drawn`, `${unchanged} unchanged`];
  if (kept.length) parts.push(`${kept.length} retouched by you and kept`);
  const proof = faults.length
    ? ` Out of bounds: ${faults.join(", ")}.`
    : drawn
      ? " All lie where they should."
      : "";
  const since = changes.length ? ` Since the edition before: ${changes.join(", ")}.` : "";
  return `${folder}: ${parts.join(", ")}.${proof}${since}`;
}

function proofWords({ stamps, measured, faults, retouched }) {
  const all = `${measured} of ${stamps} stamps measured.`;
  const hers = retouched.length ? ` ${retouched.length} retouched by you.` : "";
  return faults.length
    ? `${all} Out of bounds: ${faults.join(", ")}.${hers}`
    : `${all} All lie where they should.${hers}`;
}

function words(news) {
  if (news.what === "artwork") {
    return news.state === "making" ? "Artwork of yours is being drawn." : "";
  }
  if (news.state === "making") {
    return news.total ? `${news.done} of ${news.total}: ${news.name}` : BUSY[news.what];
  }
  if (news.state === "refused") return news.sentence;
  if (news.state === "stopped") return "Stopped. What was finished is kept.";
  if (news.state !== "done") return "";
  if (news.what === "prove") return news.proof ? proofWords(news.proof) : "";
  if (news.what === "shop") return `${news.pictures.length} pictures in ${news.shop?.folder}.`;
  return news.kits.map(kitWords).join(" ");
}

/** Buttons for what would help; `ask` hears of what is asked for by one. */
export function remedyButtons(remedies, next, ask) {
  return remedies
    .filter(({ action }) => action in REMEDIES)
    .map(({ action, subject }) => {
      const [label, asked] = REMEDIES[action](subject, next);
      const button = element("button", { type: "button" }, label);
      button.addEventListener("click", () => ask(asked));
      return button;
    });
}

/** The panel of the kit. */
export class Making {
  /** `made` hears when a kit was made. */
  constructor({ told, made }) {
    this.told = told;
    this.made = made;
    this.shown = "";
    by("make").addEventListener("click", () => this.#ask("/make"));
    by("prove").addEventListener("click", () => this.#ask("/prove"));
    by("shop").addEventListener("click", () => this.#ask("/shop"));
    by("edition").addEventListener("click", () => this.#ask("/make", { edition: true }));
    by("stop").addEventListener("click", () => this.#ask("/stop"));
  }

  /** Look how far it is, and go on looking while it is being made. */
  async look() {
    clearTimeout(this.next);
    try {
      this.#show(await read("/making"));
    } catch (problem) {
      this.told(problem.message);
    }
  }

  async #ask(place, asked = {}) {
    try {
      this.#show(await (await send(place, asked)).json());
    } catch (problem) {
      this.told(problem.message);
    }
  }

  #show(news) {
    const isMaking = news.state === "making";
    by("made-where").textContent = `It goes into the folder ${news.folder} beside the recipe.`;
    const isArtwork = news.what === "artwork";
    by("stop").hidden = !isMaking || isArtwork;
    by("progress").hidden = !isMaking || isArtwork;
    if (news.total) by("progress").value = news.done / news.total;
    else by("progress").removeAttribute("value");
    by("progress-words").textContent = words(news);
    for (const id of ["make", "prove", "shop", "edition"]) by(id).disabled = isMaking;
    by("made-files").hidden = !news.made || isMaking;
    by("edition-words").textContent =
      `It goes into ${news.next}; ${news.folder} stays as it is, and what you did not change is ` +
      "the same to the byte.";
    this.#showRemedies(news);
    this.#showPictures(news, isMaking);
    if (this.wasMaking && !isMaking && news.what === "kit") this.made();
    this.wasMaking = isMaking;
    if (isMaking) this.next = setTimeout(() => this.look(), EVERY_MS);
  }

  #showRemedies(news) {
    const kits = news.what === "artwork" ? [] : (news.kits ?? []);
    const notes = kits.flatMap((kit) => kit.notes);
    by("made-notes").replaceChildren(
      ...notes.map(({ sentence, remedies }) =>
        element("li", {}, sentence, ...this.#buttons(remedies, news.next)),
      ),
    );
    const kept = [...new Set(kits.flatMap((kit) => kit.kept))];
    by("made-hers").hidden = !kept.length;
    by("made-hers-list").replaceChildren(
      ...kept.map((name) =>
        element("li", {}, name, ...this.#buttons([{ action: "redraw", subject: name }], news.next)),
      ),
    );
    const refused = news.state === "refused" && news.what !== "artwork" ? news.remedies : [];
    by("ways-on").replaceChildren(...this.#buttons(refused, news.next));
  }

  #buttons(remedies, next) {
    return remedyButtons(remedies, next, (asked) => this.#ask("/make", asked));
  }

  /** Pictures of what was made, fetched once each time that something was finished. */
  #showPictures(news, isMaking) {
    const now = JSON.stringify([news.state, news.what, news.folder, news.made, news.pictures]);
    if (isMaking || now === this.shown) return;
    this.shown = now;
    const overview = by("made-overview");
    overview.hidden = !news.made;
    if (news.made) overview.src = `/made/overview.png?${Date.now()}`;
    const proof = by("made-proof");
    proof.hidden = news.what !== "prove" || news.state !== "done";
    if (!proof.hidden) proof.src = `/made/proof.html?${Date.now()}`;
    by("shop-pictures").replaceChildren(
      ...news.pictures.map((name, index) => {
        const address = `/made/shop/${index}.png?${Date.now()}`;
        const image = element("img", { src: address, alt: name, loading: "lazy" });
        return element("a", { href: address, target: "_blank" }, image);
      }),
    );
  }
}
