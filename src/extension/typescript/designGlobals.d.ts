/** What a design finds beside the language standard, where the editor leaves the browser's names out. */

/** Notes of a design: each call is told with its line, beside the findings. */
declare var console: {
  log(...data: unknown[]): void;
  info(...data: unknown[]): void;
  debug(...data: unknown[]): void;
  warn(...data: unknown[]): void;
  error(...data: unknown[]): void;
};

declare function structuredClone<T>(value: T): T;
