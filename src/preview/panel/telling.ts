import { comparisonState, comparisonText } from "./comparisonState";
import { planState } from "./planState";
import type { ShownState } from "./shownState";
import { makeBuildTeller, makeVerdictTeller, type Speech } from "./speech";
import { planText, sentences, textEquivalent } from "./textEquivalent";
import { wearState } from "./wearState";
import { verdictText } from "./wearWords";

/** Rows of the plan that are spoken when it is done. */
const spokenRows = 4;

/** What is said, and when: of what came, and of what the person does. */
export class Telling {
  readonly #speech: Speech;
  readonly #shown: () => ShownState;
  readonly #tellBuild = makeBuildTeller();
  readonly #tellVerdict = makeVerdictTeller();
  readonly #tellPlan = makeVerdictTeller();
  readonly #tellComparison = makeVerdictTeller();
  #resting: ReturnType<typeof setTimeout> | undefined;
  #telling: ReturnType<typeof setTimeout> | undefined;

  /** @param shown what is shown at the moment when it is told */
  constructor(speech: Speech, shown: () => ShownState) {
    this.#speech = speech;
    this.#shown = shown;
  }

  say(text: string): void {
    this.#speech.say(text);
  }

  /** Says it once nothing newer is said for a moment: for what is done many times in a row. */
  sayAtRest(text: string): void {
    clearTimeout(this.#resting);
    this.#resting = setTimeout(() => this.say(text), 450);
  }

  /** Facts may come just after the build's end: what is said waits for them a moment. */
  tellSoon(): void {
    clearTimeout(this.#telling);
    this.#telling = setTimeout(() => this.#tell(this.#shown()), 400);
  }

  #tell(shown: ShownState): void {
    const { design, build } = shown;
    const wear = wearState(shown);
    const built = this.#tellBuild(build?.phase, build?.version ?? 0, textEquivalent(design, build));
    const judged = wear.isOld ? undefined : this.#tellVerdict(design?.uri, verdictText(wear.verdict));
    const plan = planState(shown);
    const isPlanned = plan.scene?.isWhole === true && !plan.isOld;
    const planned = isPlanned ? this.#tellPlan(design?.uri, planText(plan, spokenRows)) : undefined;
    const compared = this.#tellComparison(design?.uri, comparisonText(comparisonState(shown)));
    const text = sentences(built, judged, planned, compared);
    if (text !== "") this.say(text);
  }
}
