import { escaped } from "../sheet/svg";

/** XHTML whose texts are escaped. */
export class Markup {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

/** What may stand in a template: text and numbers are escaped, markup is not; nothing where it is undefined. */
export type Content = string | number | Markup | readonly Markup[] | undefined;

/** Markup from a template. */
export function markup(parts: TemplateStringsArray, ...contents: readonly Content[]): Markup {
  let text = parts[0];
  contents.forEach((content, i) => {
    text += shown(content) + parts[i + 1];
  });
  return new Markup(text);
}

function shown(content: Content): string {
  if (content === undefined) return "";
  if (content instanceof Markup) return content.text;
  if (typeof content === "object") return content.map(({ text }) => text).join("");
  return escaped(String(content));
}

export interface Column {
  readonly title: string;
  /** Numbers stand to the right. */
  readonly isNumber?: boolean;
}

/** Tables of no more rows stay on one page. */
const shortTable = 9;

/** A table with its rows, its head left out where it has no titles; `isMarked`: the row that counts. */
export function table(
  columns: readonly Column[],
  rows: readonly { readonly cells: readonly Content[]; readonly isMarked?: boolean }[],
): Markup {
  const kind = ({ isNumber }: Column) => (isNumber ? markup` class="number"` : undefined);
  const head = markup`<thead><tr>${columns.map((column) => markup`<th scope="col"${kind(column)}>${column.title}</th>`)}</tr></thead>
`;
  const body = rows.map(
    ({ cells, isMarked }) => markup`<tr${isMarked ? markup` class="marked"` : undefined}>${columns.map(
      (column, i) => markup`<td${kind(column)}>${cells[i]}</td>`,
    )}</tr>
`,
  );
  return markup`<div class="wide${rows.length <= shortTable ? " short" : ""}"><table>
${columns.some(({ title }) => title !== "") ? head : undefined}<tbody>${body}</tbody></table></div>
`;
}

export const list = (items: readonly Content[], className?: string): Markup =>
  markup`<ul${className === undefined ? undefined : markup` class="${className}"`}>${items.map(
    (item) => markup`<li>${item}</li>`,
  )}</ul>
`;

/**
 * A whole SVG document as a picture: it stands in an address of its own, so that its names do not meet those of others, and
 * nothing in it runs.
 */
export function picture(svg: string, alternative: string, className = "picture"): Markup {
  const address = encodeURIComponent(svg).replace(/%(20|3D|3A|2F|2C|3B)/g, (code) =>
    decodeURIComponent(code),
  );
  return markup`<img class="${className}" alt="${alternative}" src="data:image/svg+xml,${address}"/>`;
}

export const section = (title: string, ...contents: readonly Content[]): Markup =>
  markup`<section><h2>${title}</h2>
${contents.map((content) => markup`${content}`)}</section>
`;
