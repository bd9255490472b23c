// What the large stroke measures, in words and figures.

const ROWS = [
  ["width", "wide", (value) => `${figures(value)} mm`],
  ["spread", "swells by", (value) => `${figures(100 * value)} %`],
  ["edge", "edge", (value) => `${figures(value)} px`],
  ["wander", "wanders", (value) => `${figures(value)} px`],
  ["bare", "bare", (value) => `${figures(100 * value)} %`],
];

function figures(value) {
  return String(Number(value.toPrecision(2)));
}

/** Show `measured` in the list `place`; what could not be read is left out. */
export function showMeasured(place, measured) {
  if (!measured) return;
  place.replaceChildren(
    ...ROWS.filter(([name]) => name in measured).map(([name, words, inWords]) => {
      const pair = document.createElement("div");
      const [term, value] = [document.createElement("dt"), document.createElement("dd")];
      term.textContent = words;
      value.textContent = inWords(measured[name]);
      value.dataset.measures = name;
      pair.append(term, value);
      return pair;
    }),
  );
}
