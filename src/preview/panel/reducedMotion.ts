/** Motion is to be reduced: by the system's setting or by the editor's. */
export const isMotionReduced = (): boolean =>
  document.body.classList.contains("vscode-reduce-motion") ||
  matchMedia("(prefers-reduced-motion: reduce)").matches;
