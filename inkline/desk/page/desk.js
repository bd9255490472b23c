// The desk's page: what lies on it, and what happens where it is turned.

import { bring, read, send, picture, latestOnly } from "./asking.js";
import { Choice } from "./choice.js";
import { InUse } from "./ground.js";
import { Layout } from "./layout.js";
import { Leaves } from "./leaves.js";
import { Making } from "./making.js";
import { Nudging } from "./nudging.js";
import { PictureView, tinted } from "./picture.js";
import { faultLine } from "./remedies.js";
import { Strip } from "./strip.js";

const by = (id) => document.getElementById(id);
const SAID_MS = 12_000;
const CHOSEN = "inkline-stamp";

let state = null;
let current = sessionStorage.getItem(CHOSEN);

let saying = 0;
let drawings = 0;

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
  },
});
const inUse = new InUse(by("small"), {
  ground: by("ground"),
  ink: by("ink"),
  painting: by("painting"),
  told: say,
});
const strip = new Strip(by("strip"), { chosen: choose });
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
const making = new Making({ told: say });
const VIEWS = ["ink", "layout", "kit"];
let leaves = null;

const askStroke = latestOnly(async (changes) => {
  const canvas = by("stroke");
  const pixels = window.devicePixelRatio || 1;
  canvas.width = Math.round(canvas.clientWidth * pixels);
  canvas.height = Math.round(canvas.clientHeight * pixels);
  const size = [canvas.width, canvas.height];
  const bitmap = await picture("/stroke", { size, changes }).catch(() => null);
  if (!bitmap) return;
  const colour = getComputedStyle(canvas).getPropertyValue("--ink");
  canvas.getContext("2d").drawImage(tinted(bitmap, colour), 0, 0);
});

function stampNow() {
  return state.stamps.find((stamp) => stamp.name === current) ?? state.stamps[0];
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

async function turned(key, value) {
  await change("/turn", { values: { ...view.turned, [key]: value } });
}

/** Ask for a change of the recipe, and show what became of it. */
async function change(place, asked) {
  try {
    take(await (await send(place, asked)).json());
    say("");
  } catch (problem) {
    say(problem.message);
    if (state) show();
  }
}

function take(next) {
  const values = next.style ? next : { ...next, stamps: state?.stamps ?? [], style: state?.style };
  state = { ...values, title: next.title ?? state?.title };
  view.turned = {};
  inUse.turned = {};
  show();
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
  inUse.show(stamp);
  strip.show(state.stamps, state.version, stamp.name);
  if (!state.style) return;
  choice.look(state);
  leaves.show(state.style.values);
  by("number").textContent = state.number;
  by("imitates").textContent = state.style.imitates;
  for (const input of by("pens").querySelectorAll("input")) {
    input.checked = input.value === state.style.name;
  }
  askStroke({});
}

function showFaults() {
  const place = by("faults");
  place.hidden = !state.faults.length;
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

function showPens(styles) {
  for (const style of styles) {
    const label = document.createElement("label");
    const input = document.createElement("input");
    const name = document.createElement("span");
    const sample = document.createElement("canvas");
    input.type = "radio";
    input.name = "style";
    input.value = style.name;
    name.textContent = style.name.replaceAll("-", " ");
    label.title = style.imitates;
    label.append(input, sample, name);
    input.addEventListener("change", () => change("/style", { name: style.name }));
    by("pens").append(label);
  }
}

/** Draw a stroke of each style over its name. */
async function paintPens() {
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
  by("choose").addEventListener("click", () => choice.open({ ...stampNow(), version: state.version }));
  by("kits").addEventListener("change", () => change("/kit", { name: by("kits").value }));
  by("fresh-number").addEventListener("click", () => change("/number", { number: null }));
  by("keep-style").addEventListener("click", () =>
    change("/keep-style", { name: by("own-name").value.trim() }),
  );
  by("picture").addEventListener("dblclick", (event) => {
    const point = view.pointAt(event.offsetX, event.offsetY);
    choice.open({ ...stampNow(), version: state.version }, point);
  });
  listenToTabs();
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
  window.addEventListener("focus", async () => {
    const next = await read("/state").catch(() => null);
    if (next && next.version !== state?.version) take(next);
  });
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
    showPens(furnishings.styles);
    listen();
    take(await read("/state"));
    paintPens();
  } catch (problem) {
    say(problem.message);
  }
}

begin();
