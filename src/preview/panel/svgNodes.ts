const svgNamespace = "http://www.w3.org/2000/svg";

/** Makes an element of a drawing. */
export function svgNode<K extends keyof SVGElementTagNameMap>(
  name: K,
  attributes: Readonly<Record<string, string | number>>,
): SVGElementTagNameMap[K] {
  const node = document.createElementNS(svgNamespace, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, String(value));
  return node;
}

/** Makes a text of a drawing, in a class. */
export function svgText(x: number, y: number, content: string, name: string): SVGElement {
  const node = svgNode("text", { x, y, class: name });
  node.textContent = content;
  return node;
}
