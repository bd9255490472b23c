// Faults of the recipe in words, each with buttons that would mend it.

function button(text, pressed) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.addEventListener("click", pressed);
  return made;
}

/** What a fix of `fault` is called on its button. */
function inWords({ key, value }, fault) {
  const parts = key.split(".");
  const own = fault.key.split(".");
  const isNear = parts.slice(0, -1).join(".") === own.slice(0, -1).join(".");
  const name = (isNear ? parts.slice(-1) : parts).join(" ").replaceAll("_", " ");
  const plain = value.replaceAll('"', "").replace(/^\[|\]$/g, "");
  return `Set ${name} to ${plain}`;
}

/** A fault with its buttons; `mend` hears of the key and of its value, null for the usual one. */
export function faultLine(fault, mend) {
  const line = document.createElement("div");
  const words = document.createElement("p");
  words.textContent = fault.sentence;
  line.className = "fault";
  line.append(words);
  const ways = fault.fixes.map((fix) =>
    button(inWords(fix, fault), () => mend(fix.key, fix.value)),
  );
  if (!ways.length && fault.key) ways.push(button("As usual", () => mend(fault.key, null)));
  line.append(...ways);
  return line;
}
