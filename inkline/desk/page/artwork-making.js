// The folder that artwork is drawn into: begun, followed, stopped and taken away.

import { read, send } from "./asking.js";
import { element } from "./elements.js";
import { kitWords, remedyButtons } from "./making.js";

const EVERY_MS = 400;
const by = (id) => document.getElementById(id);

function words(news) {
  if (news.what !== "artwork") return "";
  if (news.state === "making") {
    return news.total ? `${news.done} of ${news.total}: ${news.name}` : "Looking it over …";
  }
  if (news.state === "refused") return news.sentence;
  if (news.state === "stopped") return "Stopped. What was finished is kept.";
  return news.state === "done" ? news.kits.map(kitWords).join(" ") : "";
}

/** What becomes of artwork in its folder. */
export class MadeArtwork {
  constructor({ told }) {
    this.told = told;
    by("artwork-make").addEventListener("click", () => this.#ask("/artwork/make"));
    by("artwork-stop").addEventListener("click", () => this.#ask("/stop"));
  }

  /** Look how far it is, and go on looking while it is being made. */
  async look() {
    clearTimeout(this.next);
    try {
      this.#show(await read("/artwork/making"));
    } catch (problem) {
      this.told(problem.message);
    }
  }

  async #ask(place, asked = {}) {
    try {
      await send(place, asked);
      await this.look();
    } catch (problem) {
      this.told(problem.message);
    }
  }

  #show(news) {
    const isBusy = news.state === "making";
    const isOwn = isBusy && news.what === "artwork";
    by("artwork-where").textContent = `It goes into the folder ${news.folder} beside the recipe.`;
    by("artwork-make").disabled = isBusy;
    by("artwork-stop").hidden = !isOwn;
    by("artwork-progress").hidden = !isOwn;
    if (news.total) by("artwork-progress").value = news.done / news.total;
    else by("artwork-progress").removeAttribute("value");
    by("artwork-progress-words").textContent = words(news);
    by("artwork-pack").hidden = !news.made || isBusy;
    const ask = (asked) => this.#ask("/artwork/make", asked);
    const own = news.what === "artwork" ? news : { kits: [], remedies: [] };
    by("artwork-notes").replaceChildren(
      ...(own.kits ?? []).flatMap(({ notes, kept }) => [
        ...notes.map(({ sentence, remedies }) =>
          element("li", {}, sentence, ...remedyButtons(remedies, news.next, ask)),
        ),
        ...kept.map((name) =>
          element("li", {}, `${name} is retouched by you, and kept. `,
            ...remedyButtons([{ action: "redraw", subject: name }], news.next, ask)),
        ),
      ]),
    );
    const refused = own.state === "refused" ? own.remedies : [];
    by("artwork-ways-on").replaceChildren(...remedyButtons(refused, news.next, ask));
    if (isBusy) this.next = setTimeout(() => this.look(), EVERY_MS);
  }
}
