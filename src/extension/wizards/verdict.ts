/** What is said of an answer while it is typed; an error keeps it from being given. */
export interface Verdict {
  readonly text: string;
  readonly isError: boolean;
}

export const refused = (text: string): Verdict => ({ text, isError: true });
export const doubted = (text: string): Verdict => ({ text, isError: false });
