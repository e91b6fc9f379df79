type Child = Node | string | undefined | false;

interface ElementOptions {
  readonly id?: string;
  readonly class?: string;
  readonly text?: string;
  readonly title?: string;
  /** Attributes; one that is `undefined` is left out, `true` is the empty text. */
  readonly attributes?: Readonly<Record<string, string | number | boolean | undefined>>;
}

/** Makes an element with its children. Text is always text: nothing is parsed as HTML. */
export function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  options: ElementOptions = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (options.id !== undefined) element.id = options.id;
  if (options.class !== undefined) element.className = options.class;
  if (options.text !== undefined) element.textContent = options.text;
  if (options.title !== undefined) element.title = options.title;
  for (const [name, value] of Object.entries(options.attributes ?? {})) {
    if (value === undefined || value === false) continue;
    element.setAttribute(name, value === true ? "" : String(value));
  }
  for (const child of children) if (child !== undefined && child !== false) element.append(child);
  return element;
}

/** Sets an attribute, or takes it away where the value is undefined; touches nothing that is so already. */
export function setAttribute(element: Element, name: string, value: string | undefined): void {
  if (value === undefined) {
    if (element.hasAttribute(name)) element.removeAttribute(name);
  } else if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

/** Sets the text; touches nothing that is so already, so that a selection in it stays. */
export function setText(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

/** Whether an element can be seen and so be walked to. */
export const isSeen = (element: HTMLElement): boolean => element.getClientRects().length > 0;

/**
 * One tab stop for a group of controls: the arrow keys, Home and End walk from one to the next (WAI-ARIA Authoring
 * Practices, "Keyboard navigation inside components"). Call `refresh` after the controls changed.
 */
export function roving(
  container: HTMLElement,
  selector: string,
  direction: "across" | "down" | "both",
): { readonly refresh: () => void } {
  const items = () => [...container.querySelectorAll<HTMLElement>(selector)].filter(isSeen);
  const stopAt = (stop: HTMLElement) => {
    for (const item of container.querySelectorAll<HTMLElement>(selector))
      item.tabIndex = item === stop ? 0 : -1;
  };
  const steps: Record<string, number> = {
    ...(direction !== "down" && { ArrowRight: 1, ArrowLeft: -1 }),
    ...(direction !== "across" && { ArrowDown: 1, ArrowUp: -1 }),
  };
  container.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    const all = items();
    const at = all.indexOf(event.target as HTMLElement);
    if (at < 0) return;
    const next =
      event.key === "Home"
        ? all[0]
        : event.key === "End"
          ? all.at(-1)
          : event.key in steps
            ? all[(at + steps[event.key] + all.length) % all.length]
            : undefined;
    if (next === undefined) return;
    event.preventDefault();
    stopAt(next);
    next.focus();
  });
  container.addEventListener("focusin", (event) => {
    const target = event.target as HTMLElement;
    if (target.matches(selector)) stopAt(target);
  });
  return {
    refresh() {
      const all = items();
      const stop = all.find((item) => item.tabIndex === 0) ?? all[0];
      if (stop !== undefined) stopAt(stop);
    },
  };
}
