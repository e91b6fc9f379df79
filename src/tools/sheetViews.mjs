/** @typedef {{ x: number, y: number, width: number, height: number }} Box */

/** A drawing sheet taken apart: its views as groups that can be put into other pictures. */
export class Sheet {
  #svg;

  /** @param {string} svg */
  constructor(svg) {
    this.#svg = svg;
  }

  /** A view's group: "front", "side", "top", "picture" or "back-picture". */
  view(name) {
    const start = this.#svg.indexOf(`<g id="${name}-view"`);
    if (start < 0) throw new Error(`the sheet has no view ${name}`);
    // Groups in it are closed before it is.
    let depth = 0;
    for (const { 0: tag, index } of this.#svg.slice(start).matchAll(/<g\b|<\/g>/g)) {
      depth += tag === "</g>" ? -1 : 1;
      if (depth === 0) return this.#svg.slice(start, start + index + tag.length);
    }
    throw new Error(`the view ${name} does not end`);
  }

  /** How much the view is reduced: mm of the piece to one of the sheet. */
  reduction(name) {
    return Number(/data-reduction="([\d.]+)"/.exec(this.view(name))[1]);
  }

  /** Only the head of a view, not clipped where another part hides it. */
  head(name) {
    return /<g class="head"[\s\S]*?<\/g>/.exec(this.view(name))[0];
  }

  /** What clips the view: the head is cut off at its lower edge. */
  window(name) {
    const [, x, y, width, height] = new RegExp(
      `<clipPath id="${name}-window"><rect x="([\\d.]+)" y="([\\d.]+)" width="([\\d.]+)" height="([\\d.]+)"`,
    )
      .exec(this.#svg)
      .map(Number);
    return { x, y, width, height };
  }

  /** What the piece takes up in a view. @returns {Box} */
  pieceBox(name) {
    return boxOf(/<path class="piece-outline"[^>]* d="([^"]*)"/.exec(this.view(name))[1]);
  }

  /** What the head takes up in a view, as far as its window. @returns {Box} */
  headBox(name) {
    const box = boxOf(this.headOutline(name));
    const { y, height } = this.window(name);
    return { ...box, height: Math.min(box.y + box.height, y + height) - box.y };
  }

  headOutline(name) {
    return /<path class="head-outline"[^>]* d="([^"]*)"/.exec(this.view(name))[1];
  }

  /** A view as a picture of its own, in the sheet's colours. */
  picture(name, margin = 5) {
    const box = grown(around(this.pieceBox(name), this.headBox(name)), margin);
    return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${boxText(box)}">${this.view(name)}</svg>\n`;
  }
}

/** The points of a path of absolute moves and relative lines, which is all that sheets have. @returns {[number, number][]} */
export function pointsOf(path) {
  const points = [];
  let at = [0, 0];
  for (const [, letter, numbers] of path.matchAll(/([Mlz])([^Mlz]*)/g)) {
    const values = (numbers.match(/-?(?:\d+\.?\d*|\.\d+)/g) ?? []).map(Number);
    for (let i = 0; i + 1 < values.length; i += 2) {
      at =
        letter === "M" && i === 0 ? [values[i], values[i + 1]] : [at[0] + values[i], at[1] + values[i + 1]];
      points.push(at);
    }
  }
  return points;
}

/** @returns {Box} */
function boxOf(path) {
  const points = pointsOf(path);
  const [x, y] = [0, 1].map((axis) => points.map((point) => point[axis]));
  const least = (values) => values.reduce((a, b) => Math.min(a, b));
  const most = (values) => values.reduce((a, b) => Math.max(a, b));
  return { x: least(x), y: least(y), width: most(x) - least(x), height: most(y) - least(y) };
}

/** The box around both. @param {Box} a @param {Box} b @returns {Box} */
export function around(a, b) {
  const x = Math.min(a.x, b.x);
  const y = Math.min(a.y, b.y);
  return {
    x,
    y,
    width: Math.max(a.x + a.width, b.x + b.width) - x,
    height: Math.max(a.y + a.height, b.y + b.height) - y,
  };
}

/** @param {Box} box @returns {Box} */
export const grown = ({ x, y, width, height }, by) => ({
  x: x - by,
  y: y - by,
  width: width + 2 * by,
  height: height + 2 * by,
});

/** For `viewBox`. */
export const boxText = ({ x, y, width, height }) =>
  [x, y, width, height].map((value) => value.toFixed(2)).join(" ");
