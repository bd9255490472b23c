// The kit that is made of the recipe: begun, followed, stopped, looked at and taken away.

import { read, send } from "./asking.js";

const EVERY_MS = 400;
const by = (id) => document.getElementById(id);

function words(news) {
  if (news.state === "making") {
    return news.total ? `${news.done} of ${news.total}: ${news.name}` : "Looking the recipe over …";
  }
  if (news.state === "refused") return news.sentence;
  if (news.state === "stopped") return "Stopped. What was finished is kept.";
  if (news.state !== "done") return "";
  return news.kits
    .map(({ drawn, unchanged, kept, faults }) => {
      const parts = [`${drawn} drawn`, `${unchanged} unchanged`];
      if (kept.length) parts.push(`${kept.length} retouched by you and kept`);
      const proof = faults.length
        ? ` Out of bounds: ${faults.join(", ")}.`
        : drawn
          ? " All lie where they should."
          : "";
      return `${parts.join(", ")}.${proof}`;
    })
    .join(" ");
}

/** The panel of the kit. */
export class Making {
  constructor({ told }) {
    this.told = told;
    by("make").addEventListener("click", () => this.#ask("/make"));
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

  async #ask(place) {
    try {
      this.#show(await (await send(place)).json());
    } catch (problem) {
      this.told(problem.message);
    }
  }

  #show(news) {
    const isMaking = news.state === "making";
    by("made-where").textContent = `In the folder ${news.folder}, beside the recipe.`;
    by("make").disabled = isMaking;
    by("stop").hidden = !isMaking;
    const progress = by("progress");
    progress.hidden = !isMaking;
    progress.max = news.total || 1;
    progress.value = news.done || 0;
    by("progress-words").textContent = words(news);
    by("made-notes").replaceChildren(
      ...(news.kits ?? [])
        .flatMap((kit) => kit.notes)
        .map((note) => Object.assign(document.createElement("li"), { textContent: note })),
    );
    const isThere = news.made && !isMaking;
    by("made-files").hidden = !isThere;
    const overview = by("made-overview");
    if (isThere && (overview.hidden || this.was === "making")) {
      overview.src = `/made/overview.png?${Date.now()}`;
    }
    overview.hidden = !isThere;
    this.was = news.state;
    if (isMaking) this.next = setTimeout(() => this.look(), EVERY_MS);
  }
}
