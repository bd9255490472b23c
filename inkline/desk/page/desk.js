// The desk's page: what lies on it, and what happens where it is turned.

import { GONE, NO_ANSWER, bring, read, send, picture, latestOnly } from "./asking.js";
import { Artwork, isArtwork } from "./artwork.js";
import { Choice } from "./choice.js";
import { InUse } from "./ground.js";
import { Layout } from "./layout.js";
import { Leaves } from "./leaves.js";
import { showMeasured } from "./measured.js";
import { Making } from "./making.js";
import { Nudging } from "./nudging.js";
import { PictureView, tinted } from "./picture.js";
import { faultLine } from "./remedies.js";
import { Strip } from "./strip.js";

const by = (id) => document.getElementById(id);
const SAID_MS = 12_000;
const KEPT_AFTER_MS = 350; // without another turn
const ASK_AGAIN_MS = 1500;
const CHOSEN = "inkline-stamp";

let state = null;
let current = sessionStorage.getItem(CHOSEN);

let saying = 0;
let keeping = 0;
let isGone = false;
let furnished = [];
let drawings = 0;
let artworks = []; // her artwork as stamps that can be looked at
let [aside, instead] = [null, null]; // artwork that waits while the layout is seen to
let wanted = null; // the file that was brought last, to be looked at
let seen;
const firstSeen = new Promise((resolve) => (seen = resolve)); // what is small waits for the large

function say(sentence) {
  clearTimeout(saying);
  by("saying").textContent = sentence;
  if (sentence) saying = setTimeout(() => say(""), SAID_MS);
}

const view = new PictureView(by("picture"), {
  told: (sentence) => state?.faults.length || say(sentence),
  drawn: (ms) => {
    document.documentElement.dataset.drawnIn = ms.toFixed(1);
    document.documentElement.dataset.shows = current;
    document.documentElement.dataset.drawings = ++drawings;
    seen();
  },
});
const other = new PictureView(by("other"), { told: say, drawn: () => {}, place: "/beside" });
const inUse = new InUse(by("small"), {
  ground: by("ground"),
  ink: by("ink"),
  painting: by("painting"),
  after: firstSeen,
  told: say,
});
const strip = new Strip(by("strip"), { chosen: choose, after: firstSeen });
const choice = new Choice({
  panel: by("choice"),
  marks: by("marks"),
  list: by("choices"),
  more: by("more-choices"),
  close: by("close-choice"),
  own: by("own-drawing"),
  drawn: bringDrawing,
  nudging: new Nudging({
    panel: by("nudging"),
    moved: by("moved"),
    back: by("put-back"),
    forms: by("forms"),
    change,
  }),
  chosen: (name, count) => change("/again", { name, count }),
  told: say,
});
const mend = (key, value) => change("/mend", { key, value });
const layout = new Layout(by("layout"), {
  notes: by("notes"),
  mend,
  typed: (way, typed) => change("/set", { way, typed }),
  brought: bringFont,
  told: say,
});
const making = new Making({ told: say, made: lookAgain });
const artwork = new Artwork({
  mend,
  change,
  typed: (way, typed) => change("/set", { way, typed }),
  taken: (next, name) => {
    wanted = name;
    take(next);
  },
  found: showArtwork,
  names: (found) => view.setFound(found),
  busy: (isBusy) => by("sheet").classList.toggle("waiting", isBusy),
  told: say,
});
const VIEWS = ["ink", "layout", "artwork", "kit"];
const FONT = /\.(ttf|otf|woff2?)$/i;
let leaves = null;

const askStroke = latestOnly(async (changes) => {
  const canvas = by("stroke");
  const pixels = window.devicePixelRatio || 1;
  canvas.width = Math.round(canvas.clientWidth * pixels);
  canvas.height = Math.round(canvas.clientHeight * pixels);
  const size = [canvas.width, canvas.height];
  await firstSeen;
  const bitmap = await picture("/stroke", { size, changes }).catch(() => null);
  if (!bitmap) return;
  const colour = getComputedStyle(canvas).getPropertyValue("--ink");
  canvas.getContext("2d").drawImage(tinted(bitmap, colour), 0, 0);
  showMeasured(by("measured"), bitmap.measured);
});

function stampNow() {
  return [...artworks, ...state.stamps].find(({ name }) => name === current) ?? state.stamps[0];
}

/** Her artwork stands in the strip, and is looked at as a stamp is. */
function showArtwork({ pictures, rows }) {
  const ground = rows.ground.text;
  artworks = pictures
    .filter((one) => one.is_drawn)
    .map(({ name, width, height }) => ({
      name: `artwork:${name}`,
      artwork: name,
      label: name,
      group: "artwork",
      paper: { white: "#ffffff", clear: by("ground").value }[ground] ?? null,
      width,
      height,
    }));
  const brought = pictures.find(({ file }) => file === wanted) ?? (wanted && pictures.at(-1));
  wanted = null;
  if (brought) current = `artwork:${brought.name}`;
  lookAtArtwork();
  show();
}

/** Artwork is looked at while it is seen to, a stamp while the layout is; then as it was before. */
function lookAtArtwork() {
  const isIt = artworks.some(({ name }) => name === current);
  const isLayout = !by("view-layout").hidden;
  if (!by("view-artwork").hidden && !isIt && artworks.length) {
    choose(artworks[0].name);
  } else if (isLayout && isIt && state.stamps.length) {
    [aside, instead] = [current, state.stamps[0].name];
    choose(instead);
  } else if (!isLayout && aside) {
    if (current === instead && artworks.some(({ name }) => name === aside)) choose(aside);
    aside = null;
  }
}

function choose(name) {
  if (name !== current) choice.close();
  current = name;
  sessionStorage.setItem(CHOSEN, name);
  show();
}

function turning(key, value) {
  const since = performance.now();
  view.turned = { ...view.turned, [key]: value };
  view.refresh(since);
  askStroke(view.turned);
}

function turned(key, value) {
  view.turned = { ...view.turned, [key]: value };
  clearTimeout(keeping);
  keeping = setTimeout(keepTurned, KEPT_AFTER_MS);
}

/** Have what was turned written into the recipe. */
async function keepTurned() {
  clearTimeout(keeping);
  keeping = 0;
  const values = view.turned;
  if (!Object.keys(values).length) return;
  try {
    take(await (await send("/turn", { values }, { keepalive: true })).json(), values);
    say("");
  } catch (problem) {
    say(problem.message);
  }
}

/** Ask for a change of the recipe, and show what became of it. */
async function change(place, asked) {
  if (keeping) await keepTurned();
  try {
    take(await (await send(place, asked)).json());
    say("");
  } catch (problem) {
    say(problem.message);
    if (state) show();
  }
}

function take(next, kept = view.turned) {
  const values = next.style ? next : { ...next, stamps: state?.stamps ?? [], style: state?.style };
  state = { ...values, title: next.title ?? state?.title };
  const isNewer = ([key, value]) => kept[key] !== value;
  view.turned = Object.fromEntries(Object.entries(view.turned).filter(isNewer));
  inUse.turned = view.turned;
  show();
  artwork.show(state);
}

function show() {
  by("title").textContent = state.title ?? "";
  by("file").textContent = state.file;
  by("file").title = `${state.folder}`;
  by("undo").disabled = !state.undo;
  by("redo").disabled = !state.redo;
  document.title = state.title ? `${state.title} – inkline` : "inkline";
  showFaults();
  showKits();
  if (!by("view-layout").hidden) layout.show(state.faults);
  if (!state.stamps.length) return;
  const stamp = { ...stampNow(), version: state.version };
  if (choice.isOpen && current !== stamp.name) choice.close();
  current = stamp.name;
  by("name").textContent = stamp.label;
  by("picture").setAttribute("aria-label", `${stamp.label}, large`);
  view.show(stamp);
  showPens([...furnished, ...(state.own_styles ?? [])]);
  if (!by("other").hidden) other.show(stamp);
  inUse.show(stamp);
  strip.show([...artworks, ...state.stamps], state.version, stamp.name);
  artwork.look(stamp);
  if (!state.style) return;
  choice.look(state);
  leaves.show({ ...state.style.values, ...view.turned });
  by("number").textContent = state.number;
  by("imitates").textContent = state.style.imitates;
  for (const input of by("pens").querySelectorAll("input")) {
    input.checked = input.value === state.style.name;
  }
  askStroke(view.turned);
}

function showFaults() {
  const place = by("faults");
  place.hidden = !state.faults.length;
  if (state.faults.length) seen();
  place.replaceChildren(
    ...state.faults.map((fault) => faultLine(fault, mend)),
  );
  if (state.faults.length) {
    const back = document.createElement("button");
    back.type = "button";
    back.textContent = "Undo this change";
    back.disabled = !state.undo;
    back.addEventListener("click", () => change("/undo"));
    place.append(back);
  }
}

function showKits() {
  const kits = state.kits ?? [];
  by("several-kits").hidden = kits.length < 2;
  by("kits").replaceChildren(...kits.map((name) => new Option(name, name)));
  by("kits").value = state.kit || kits[0];
}

/** Send a drawing of hers for what is called `name`, and show the kit that is drawn with it. */
async function bringDrawing(name, file) {
  try {
    await bring("/own-hand", file, { "x-inkline-thing": encodeURIComponent(name) });
    open("kit");
  } catch (problem) {
    say(problem.message);
  }
}

/** Send a font file that was dropped or chosen. */
async function bringFont(file) {
  try {
    take(await (await bring("/font", file)).json());
  } catch (problem) {
    say(problem.message);
  }
}

/** The row of styles, those that come with inkline and her own; only where it changed. */
function showPens(styles) {
  const names = styles.map(({ name }) => name).join("/");
  if (names === by("pens").dataset.names) return;
  by("pens").dataset.names = names;
  by("pens").replaceChildren();
  const plain = (name) => name.replace(/\.toml$/, "").replaceAll("-", " ");
  const beside = by("beside").value;
  by("beside").replaceChildren(
    new Option("nothing", ""),
    ...styles.map(({ name }) => new Option(plain(name), name)),
  );
  by("beside").value = beside;
  for (const style of styles) {
    const label = document.createElement("label");
    const input = document.createElement("input");
    const name = document.createElement("span");
    const sample = document.createElement("canvas");
    input.type = "radio";
    input.name = "style";
    input.value = style.name;
    name.textContent = plain(style.name);
    label.title = style.imitates;
    label.append(input, sample, name);
    input.addEventListener("change", () => change("/style", { name: style.name }));
    by("pens").append(label);
  }
  paintPens();
}

/** Show the stamp in another style beside the recipe's, at the same place and size. */
function showBeside(name) {
  const isThere = name !== "";
  by("other").hidden = !isThere;
  by("sheet").classList.toggle("two", isThere);
  view.twin = isThere ? other : null;
  other.style = name;
  other.showsExact = view.showsExact;
  if (isThere) {
    other.show({ ...stampNow(), version: state.version });
    other.follow(view.zoom, view.middle);
  }
}

/** Say that the desk is gone, and go on once it is back. */
async function awaitReturn() {
  if (isGone) return;
  isGone = true;
  let next = null;
  while (!next) {
    clearTimeout(saying);
    by("saying").textContent = NO_ANSWER;
    await new Promise((resolve) => setTimeout(resolve, ASK_AGAIN_MS));
    next = await read("/state").catch(() => null);
  }
  isGone = false;
  say("");
  take(next, {});
  if (Object.keys(view.turned).length) keepTurned();
}

/** Draw a stroke of each style over its name. */
async function paintPens() {
  await firstSeen;
  for (const label of by("pens").children) {
    const canvas = label.querySelector("canvas");
    const pixels = window.devicePixelRatio || 1;
    canvas.width = Math.round(canvas.clientWidth * pixels);
    canvas.height = Math.round(canvas.clientHeight * pixels);
    if (!canvas.width) continue;
    const asked = { style: label.querySelector("input").value, size: [canvas.width, canvas.height] };
    const bitmap = await picture("/sample", asked).catch(() => null);
    if (!bitmap) return;
    const colour = getComputedStyle(canvas).getPropertyValue("--ink");
    canvas.getContext("2d").drawImage(tinted(bitmap, colour), 0, 0);
  }
}

function listen() {
  by("undo").addEventListener("click", () => change("/undo"));
  by("redo").addEventListener("click", () => change("/redo"));
  by("nearer").addEventListener("click", () => view.zoomTo(view.scale * 1.5));
  by("farther").addEventListener("click", () => view.zoomTo(view.scale / 1.5));
  by("whole").addEventListener("click", () => view.zoomTo(null));
  by("full").addEventListener("click", () => view.zoomTo(1 / (window.devicePixelRatio || 1)));
  const exact = by("exact");
  exact.addEventListener("click", () => {
    const shows = exact.getAttribute("aria-pressed") !== "true";
    exact.setAttribute("aria-pressed", String(shows));
    view.setExact(shows);
  });
  const alone = by("alone");
  const hold = (isHeld) => {
    alone.setAttribute("aria-pressed", String(isHeld));
    view.setAlone(isHeld);
  };
  alone.addEventListener("pointerdown", () => hold(true));
  for (const end of ["pointerup", "pointerleave", "pointercancel", "blur", "keyup"]) {
    alone.addEventListener(end, () => hold(false));
  }
  alone.addEventListener("keydown", (event) => {
    if (event.key === " " || event.key === "Enter") hold(true);
  });
  by("beside").addEventListener("change", () => showBeside(by("beside").value));
  window.addEventListener("pagehide", () => keepTurned());
  window.addEventListener(GONE, awaitReturn);
  by("choose").addEventListener("click", () => choice.open({ ...stampNow(), version: state.version }));
  by("kits").addEventListener("change", () => change("/kit", { name: by("kits").value }));
  by("fresh-number").addEventListener("click", () => change("/number", { number: null }));
  by("keep-style").addEventListener("click", () =>
    change("/keep-style", { name: by("own-name").value.trim() }),
  );
  by("picture").addEventListener("click", (event) => {
    if (by("view-ink").hidden || view.wasMoved || !state?.stamps.length) return;
    const point = view.pointAt(event.offsetX, event.offsetY);
    choice.open({ ...stampNow(), version: state.version }, point);
  });
  listenToTabs();
  listenToFiles();
  by("ground").addEventListener("input", () => {
    const isBare = artworks.find(({ name, paper }) => name === current && paper);
    if (isBare && artwork.ground === "clear") {
      isBare.paper = by("ground").value;
      view.show({ ...isBare, version: state.version });
    }
  });
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    event.preventDefault();
    change(event.shiftKey ? "/redo" : "/undo");
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    view.repaint();
    strip.repaint();
    askStroke(view.turned);
    paintPens();
  });
  window.addEventListener("focus", lookAgain);
}

/** A file that is dropped anywhere goes where such files go, and never in the page's place. */
function listenToFiles() {
  document.addEventListener("dragover", (event) => event.preventDefault());
  document.addEventListener("drop", async (event) => {
    if (event.defaultPrevented) return;
    event.preventDefault();
    const files = [...event.dataTransfer.files];
    const isPicture = files[0]?.type.startsWith("image/") && files[0].type !== "image/svg+xml";
    const isAside = event.target.closest(".in-use") !== null;
    const isAtHome = !by("view-artwork").hidden && !isAside;
    const point = view.pointAt(event.offsetX, event.offsetY);
    if (files.length && files.every((file) => FONT.test(file.name))) {
      open("layout");
      bringFont(files[0]);
    } else if (isPicture && !isAtHome) {
      const isOnCell =
        event.target === by("picture") &&
        (await choice.drop({ ...stampNow(), version: state.version }, point, files[0]));
      if (!isOnCell) inUse.take(files[0]);
    } else if (files.some(isArtwork)) {
      open("artwork");
      artwork.bring(files.filter(isArtwork));
    } else if (files.length) {
      say("This is no artwork, painting or font that can be used here.");
    }
  });
}

/** Show what was changed elsewhere, or drawn by her own hand. */
async function lookAgain() {
  const next = await read("/state").catch(() => null);
  if (next && next.version !== state?.version) take(next);
}

function open(name) {
  for (const one of VIEWS) {
    const isIt = one === name;
    by(`view-${one}`).hidden = !isIt;
    by(`tab-${one}`).setAttribute("aria-selected", String(isIt));
    by(`tab-${one}`).tabIndex = isIt ? 0 : -1;
  }
  if (name === "layout" && state) layout.show(state.faults);
  if (name === "kit") making.look();
  artwork.open(name === "artwork");
  by("faults").parentElement.scrollTop = 0;
  if (state) lookAtArtwork();
  if (name === "ink") askStroke(view.turned);
}

function listenToTabs() {
  for (const [index, name] of VIEWS.entries()) {
    const tab = by(`tab-${name}`);
    tab.addEventListener("click", () => open(name));
    tab.addEventListener("keydown", (event) => {
      const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!step) return;
      const next = VIEWS[(index + step + VIEWS.length) % VIEWS.length];
      open(next);
      by(`tab-${next}`).focus();
    });
  }
}

async function begin() {
  try {
    const furnishings = await read("/furnishings");
    leaves = new Leaves(by("leaves"), furnishings.controls, { turning, turned });
    furnished = furnishings.styles;
    listen();
    take(await read("/state"));
  } catch (problem) {
    say(problem.message);
  }
}

begin();
