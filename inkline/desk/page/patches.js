// The parts of a picture that are drawn already, so that a view that moves asks for the rest alone.

const TILE = 256; // px of the picture to a side
const LONGEST = 8; // tiles to a side of what is asked for at once
const MOST = 160; // tiles that are kept, 40 MB

/** Parts of one picture after another, each a rectangle of whole tiles in the picture's pixels. */
export class Patches {
  constructor() {
    this.list = [];
  }

  clear() {
    this.list = [];
  }

  /** The rectangle that is still wanted of `seen` for the picture `key`, or null if all is there. */
  missing(key, [left, top, width, height], [wide, high]) {
    const here = this.list.filter((patch) => patch.key === key);
    const has = (x, y) =>
      here.some(({ window: [l, t, w, h] }) => x >= l && y >= t && x < l + w && y < t + h);
    const wanted = [];
    for (let y = Math.floor(top / TILE) * TILE; y < top + height; y += TILE) {
      for (let x = Math.floor(left / TILE) * TILE; x < left + width; x += TILE) {
        if (!has(x, y)) wanted.push([x, y]);
      }
    }
    if (!wanted.length) return null;
    const from = [0, 1].map((axis) => Math.min(...wanted.map((tile) => tile[axis])));
    const to = [wide, high].map((end, axis) =>
      Math.min(
        end,
        from[axis] + LONGEST * TILE,
        Math.max(...wanted.map((tile) => tile[axis])) + TILE,
      ),
    );
    return [...from, to[0] - from[0], to[1] - from[1]];
  }

  /** Keep a part; those of other pictures that it covers go. */
  add(patch) {
    this.list = this.list.filter((one) => one.key === patch.key || !covers(patch, one));
    this.list.push(patch);
    const tiles = ({ bitmap }) => (bitmap.width * bitmap.height) / TILE ** 2;
    let room = MOST + tiles(patch);
    const kept = [];
    for (const one of this.list.toReversed()) {
      room -= tiles(one);
      if (room < 0) break;
      kept.unshift(one);
    }
    this.list = kept;
  }
}

function covers(upper, lower) {
  const [left, top, width, height] = upper.window.map((value) => value / upper.perPx);
  const [l, t, w, h] = lower.window.map((value) => value / lower.perPx);
  return l >= left - 1 && t >= top - 1 && l + w <= left + width + 1 && t + h <= top + height + 1;
}
