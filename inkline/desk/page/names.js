// What was found in artwork: each thing's name where it lies, as many as there is room for.

const SIZE = 12; // css px
const AROUND = 3;

/** Write the names of `places` where `at` says that a point of the artwork lies; how many fit. */
export function writeNames(context, places, at, { pixels, ink, sheet, bounds }) {
  const taken = [];
  context.font = `${SIZE * pixels}px ${getComputedStyle(document.body).fontFamily}`;
  context.textAlign = "center";
  context.textBaseline = "middle";
  context.lineJoin = "round";
  for (const { label, box: [left, top, width, height] } of places) {
    const [x, y] = at(left + width / 2, top + height / 2);
    const half = context.measureText(label).width / 2 + AROUND * pixels;
    const high = (SIZE / 2 + AROUND) * pixels;
    const own = [x - half, y - high, x + half, y + high];
    const isSeen = own[0] >= 0 && own[1] >= 0 && own[2] <= bounds[0] && own[3] <= bounds[1];
    const isFree = taken.every(([l, t, r, b]) => own[2] < l || own[0] > r || own[3] < t || own[1] > b);
    if (!isSeen || !isFree) continue;
    taken.push(own);
    context.strokeStyle = sheet;
    context.lineWidth = 4 * pixels;
    context.strokeText(label, x, y);
    context.fillStyle = ink;
    context.fillText(label, x, y);
  }
  return taken.length;
}

/** Mark the cells of a grid between its lines. */
export function markCells(context, across, down, at, { pixels, colour }) {
  const inset = 3 * pixels;
  context.strokeStyle = colour;
  context.lineWidth = pixels;
  for (let row = 0; row + 1 < down.length; row += 1) {
    for (let column = 0; column + 1 < across.length; column += 1) {
      const [x0, y0] = at(across[column], down[row]);
      const [x1, y1] = at(across[column + 1], down[row + 1]);
      if (x1 - x0 < 4 * inset || y1 - y0 < 4 * inset) continue;
      context.strokeRect(x0 + inset, y0 + inset, x1 - x0 - 2 * inset, y1 - y0 - 2 * inset);
    }
  }
}
