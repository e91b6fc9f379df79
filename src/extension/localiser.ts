/** What puts a sentence into the person's language; `vscode.l10n` is one. Keeps modules free of `vscode`. */
export interface Localiser {
  /** `{0}`, `{1}` … in the sentence stand for the values. */
  t(message: string, ...values: (string | number | boolean)[]): string;
}
