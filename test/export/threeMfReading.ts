import { DOMParser, Document, Element, type Node } from "@xmldom/xmldom";
import { ThreeMFLoader } from "three/examples/jsm/loaders/3MFLoader.js";

/**
 * Reads 3MF in tests by other libraries: three's loader, for the documents @xmldom/xmldom. That has no selectors, which
 * the loader asks for: those that it uses are names, one below the other.
 */

function found(this: Document | Element, selector: string): Element[] {
  let within: (Document | Element)[] = [this];
  for (const name of selector.split(" ")) {
    within = within.flatMap((node) => [...node.getElementsByTagName(name)]);
  }
  return within as Element[];
}

for (const { prototype } of [Document, Element]) {
  Object.assign(prototype, {
    querySelectorAll: found,
    querySelector(this: Document | Element, selector: string): Element | null {
      return found.call(this, selector)[0] ?? null;
    },
  });
}

export const parsedXml = (text: string): Document => new DOMParser().parseFromString(text, "application/xml");

export const attributesOf = (element: Element): Record<string, string> =>
  Object.fromEntries([...element.attributes].map(({ name, value }) => [name, value]));

export const childrenOf = (element: Element): Element[] =>
  ([...element.childNodes] as Node[]).filter((node): node is Element => node.nodeType === 1);

/** What three makes of a 3MF file. */
export function readByThree(bytes: Uint8Array): ReturnType<ThreeMFLoader["parse"]> {
  const before = globalThis.DOMParser;
  Object.assign(globalThis, { DOMParser });
  try {
    return new ThreeMFLoader().parse(bytes.slice().buffer);
  } finally {
    Object.assign(globalThis, { DOMParser: before });
  }
}
