import * as vscode from "vscode";
import type { Verdict } from "./verdict";

/** The person went a step back. */
export const back = Symbol("back");
/** An answer; `undefined`: the person gave up. */
export type Answer<T> = T | typeof back | undefined;

/** Where in a row of questions one stands. */
export interface Frame {
  readonly title: string;
  /** From 1. */
  readonly step: number;
  readonly total: number;
  readonly standing: StandingInput;
}

/**
 * The input that stands there. It stays until the next one stands in its place: between the two the editor would give
 * the keyboard to something else, and that may take it when the next question is already asked.
 */
class StandingInput {
  #input: vscode.QuickInput | undefined;

  show(input: vscode.QuickInput): void {
    input.show();
    this.remove();
    this.#input = input;
  }

  remove(): void {
    this.#input?.dispose();
    this.#input = undefined;
  }
}

/** One question: it sees what was answered so far and adds to it. */
export type Step<G> = (given: Partial<G>, frame: Frame) => Promise<Answer<Partial<G>>>;

/** Asks one question after the other, back and forth; undefined where the person gave up. */
export async function askInSteps<G>(
  title: string,
  steps: readonly Step<G>[],
  given: Partial<G> = {},
): Promise<G | undefined> {
  const standing = new StandingInput();
  let answers = given;
  try {
    for (let at = 0; at < steps.length; ) {
      const answer = await steps[at](answers, { title, step: at + 1, total: steps.length, standing });
      if (answer === undefined) return undefined;
      if (answer === back) at = Math.max(0, at - 1);
      else {
        answers = { ...answers, ...answer };
        at++;
      }
    }
    return answers as G;
  } finally {
    standing.remove();
  }
}

/** A text is judged after this pause in typing, ms. */
const typingPause = 400;

export interface TextQuestion {
  readonly prompt: string;
  readonly placeholder?: string;
  readonly value?: string;
  /** What is to be said of a text while it is typed. */
  check(text: string): Verdict | undefined;
}

/** Asks for a text. */
export function askText(frame: Frame, question: TextQuestion): Promise<Answer<string>> {
  const box = vscode.window.createInputBox();
  box.prompt = question.prompt;
  box.placeholder = question.placeholder ?? "";
  box.value = question.value ?? "";
  let pause: NodeJS.Timeout | undefined;
  const verdict = () => question.check(box.value);
  const say = () => {
    clearTimeout(pause);
    const said = verdict();
    box.validationMessage = said && {
      message: said.text,
      severity: said.isError
        ? vscode.InputBoxValidationSeverity.Error
        : vscode.InputBoxValidationSeverity.Warning,
    };
  };
  // Nothing is wrong with a question that nobody has begun to answer.
  if (box.value !== "") say();
  box.onDidChangeValue(() => {
    clearTimeout(pause);
    // What is half typed is often wrong: that is no news. What became right is, at once.
    if (verdict()) pause = setTimeout(say, typingPause);
    else say();
  });
  return answered(box, frame, () => {
    const isRefused = verdict()?.isError ?? false;
    if (isRefused) say();
    return isRefused ? undefined : { answer: box.value };
  }).finally(() => clearTimeout(pause));
}

export interface PickQuestion<T extends vscode.QuickPickItem> {
  readonly placeholder: string;
  readonly items: readonly T[];
  readonly current?: T;
}

/** Asks for one of several. */
export function askPick<T extends vscode.QuickPickItem>(
  frame: Frame,
  question: PickQuestion<T>,
): Promise<Answer<T>> {
  const pick = vscode.window.createQuickPick<T>();
  pick.placeholder = question.placeholder;
  pick.items = question.items;
  pick.matchOnDescription = true;
  if (question.current) pick.activeItems = [question.current];
  return answered(pick, frame, () => {
    const [answer] = pick.selectedItems;
    return answer && { answer };
  });
}

/** Asks by an input: it is answered, left or gone back from. @param accept undefined: it stays open */
function answered<T>(
  input: vscode.InputBox | vscode.QuickPick<vscode.QuickPickItem>,
  { title, step, total, standing }: Frame,
  accept: () => { answer: T } | undefined,
): Promise<Answer<T>> {
  input.title = title;
  input.step = step;
  input.totalSteps = total;
  input.ignoreFocusOut = true;
  if (step > 1) input.buttons = [vscode.QuickInputButtons.Back];
  return new Promise<Answer<T>>((resolve) => {
    input.onDidAccept(() => {
      const accepted = accept();
      if (accepted) resolve(accepted.answer);
    });
    input.onDidTriggerButton(() => resolve(back));
    input.onDidHide(() => resolve(undefined));
    standing.show(input);
  });
}
