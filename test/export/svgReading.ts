/** Reads SVG in tests, apart from the code that writes it. */

/** What is wrong with a text as XML, or "" when it is well-formed (tags nest, attributes once and quoted, no bare & or <). */
export function wellFormed(xml: string): string {
  const open: string[] = [];
  const body = xml.replace(/^<\?xml [^?]*\?>\n/, "");
  let roots = 0;
  let rest = 0;
  for (const match of body.matchAll(/<([^>]*)>|[^<]+/g)) {
    if (match.index !== rest) return `stray character at ${rest}`;
    rest = match.index + match[0].length;
    const tag = match[1];
    if (tag === undefined) {
      if (/&(?!(amp|lt|gt|quot|apos|#\d+);)/.test(match[0])) return `bare & in "${match[0].slice(0, 40)}"`;
      if (open.length === 0 && match[0].trim() !== "") return `text outside: ${match[0]}`;
      continue;
    }
    if (tag.startsWith("/")) {
      if (open.pop() !== tag.slice(1)) return `</${tag.slice(1)}> closes nothing`;
      continue;
    }
    const shape = /^([a-zA-Z]+)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)$/.exec(tag);
    if (shape === null) return `malformed <${tag.slice(0, 60)}>`;
    const names = [...shape[2].matchAll(/\s([\w:-]+)=/g)].map((attribute) => attribute[1]);
    if (new Set(names).size !== names.length) return `an attribute twice in <${tag.slice(0, 60)}>`;
    if (/&(?!(amp|lt|gt|quot|apos|#\d+);)/.test(shape[2])) return `bare & in <${tag.slice(0, 60)}>`;
    if (open.length === 0) roots++;
    if (shape[3] === "") open.push(shape[1]);
  }
  if (open.length > 0) return `<${open.at(-1)}> is never closed`;
  return roots === 1 ? "" : `${roots} roots`;
}

/** The extent of a path of M, l, z with relative steps (SVG 2, section 9.3). */
export function extentOfPath(d: string): { left: number; right: number; top: number; bottom: number } {
  let [x, y, startX, startY] = [0, 0, 0, 0];
  const extent = { left: Infinity, right: -Infinity, top: Infinity, bottom: -Infinity };
  for (const [, command, list] of d.matchAll(/([Mlz])([^Mlz]*)/g)) {
    if (command === "z") {
      [x, y] = [startX, startY];
      continue;
    }
    const numbers = (list.match(/-?(?:\d+\.?\d*|\.\d+)/g) ?? []).map(Number);
    for (let i = 0; i < numbers.length; i += 2) {
      if (command === "M") [x, y, startX, startY] = [numbers[i], numbers[i + 1], numbers[i], numbers[i + 1]];
      else [x, y] = [x + numbers[i], y + numbers[i + 1]];
      extent.left = Math.min(extent.left, x);
      extent.right = Math.max(extent.right, x);
      extent.top = Math.min(extent.top, y);
      extent.bottom = Math.max(extent.bottom, y);
    }
  }
  return extent;
}
