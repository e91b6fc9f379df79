/** Colours of marks, as the page shows them. */
export type MarkColours = Readonly<Record<"error" | "warning" | "note", string>>;

/** Colours of marks, as the theme gives them. `element`: inside the page, where its variables hold. */
export function markColours(element: HTMLElement): MarkColours {
  const style = getComputedStyle(element);
  const read = (name: string, fallback: string) => style.getPropertyValue(name).trim() || fallback;
  return {
    error: read("--vscode-editorError-foreground", "#d13438"),
    warning: read("--vscode-editorWarning-foreground", "#bf8803"),
    note: read("--vscode-editorInfo-foreground", "#1a85ff"),
  };
}
