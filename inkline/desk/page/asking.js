// What the page asks the desk for. Every request shows the token that came with the page.

const token = document.querySelector('meta[name="desk-token"]').content;

/** What the window hears when the desk no longer answers. */
export const GONE = "desk-gone";
export const NO_ANSWER = "The desk no longer answers. Start it again, and this page goes on; nothing of yours is lost.";

/** A sentence from the desk on what can't be done. */
export class Refusal extends Error {}

async function answered(response) {
  if (response.ok) return response;
  let sentence = "The desk gave no answer that can be read.";
  try {
    sentence = (await response.json()).sentence ?? sentence;
  } catch {
    // A refusal at the door is plain text.
  }
  throw new Refusal(sentence);
}

async function fetched(place, options) {
  try {
    return await answered(await fetch(place, options));
  } catch (problem) {
    if (problem instanceof Refusal || problem.name === "AbortError") throw problem;
    dispatchEvent(new Event(GONE));
    throw new Refusal(NO_ANSWER);
  }
}

/** What lies at `place`, as JSON. */
export async function read(place) {
  return (await fetched(place)).json();
}

/** The response to `asked`, sent as JSON. */
export async function send(place, asked = {}, options = {}) {
  return fetched(place, {
    ...options,
    method: "POST",
    headers: { "content-type": "application/json", "x-inkline-token": token },
    body: JSON.stringify(asked),
  });
}

/** The response to a file of hers that is brought to `place`. */
export async function bring(place, file, more = {}) {
  const name = encodeURIComponent(file.name);
  return fetched(place, {
    method: "POST",
    headers: { "x-inkline-token": token, "x-inkline-file": name, ...more },
    body: file,
  });
}

/** How a stamp, or artwork of hers, is called where it is asked for. */
export function called(stamp) {
  return stamp.artwork ? { stamp: stamp.artwork, artwork: true } : { stamp: stamp.name };
}

/** The picture that is asked for, grey or in colours, or null where a later one is being drawn. */
export async function picture(place, asked) {
  const response = await send(place, asked);
  if (response.status === 204) return null;
  const [width, height] = response.headers.get("x-inkline-size").split(" ").map(Number);
  const measured = JSON.parse(response.headers.get("x-inkline-measured") ?? "null");
  const bytes = await response.arrayBuffer();
  const colours = bytes.byteLength === 4 * width * height ? new Uint8ClampedArray(bytes) : null;
  return { width, height, measured, grey: colours ? null : new Uint8Array(bytes), colours };
}

/** Calls `work` with the latest of what it is given, one at a time, and never with what is stale. */
export function latestOnly(work) {
  let waiting = null;
  let busy = false;
  return async function take(asked) {
    waiting = { asked };
    if (busy) return;
    busy = true;
    try {
      while (waiting) {
        const { asked: now } = waiting;
        waiting = null;
        await work(now);
      }
    } finally {
      busy = false;
    }
  };
}
