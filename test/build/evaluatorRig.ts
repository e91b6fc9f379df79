import { expect } from "vitest";
import { Compiler } from "../../src/build/compile";
import type { Evaluation, EvaluationRequest } from "../../src/build/evaluation";
import { Evaluator } from "../../src/build/evaluator";
import type { DesignInput } from "../../src/build/evaluatorProtocol";
import type { Message } from "../../src/message";
import { bundleEvaluator, standInEvaluator } from "./bundleEvaluator";
import { DesignFolder } from "./designFolder";

export const designName = "crown.headpiece.ts";
export const input = { head: { girth: 560, points: new Float64Array([1, 2, 3]) }, values: { reach: 90 } };

type More = Partial<EvaluationRequest>;

/** A design in the stand-in language whose `make` has the given body, from line 5 on. */
export const withMake = (body: string) => `import { headpiece, tube, solid } from "anadem";
export default headpiece({
  name: "Crown",
  make(given) {
${body}
  },
});
`;

/** Compiler, evaluator and a folder of designs for tests of the isolation. */
export class EvaluatorRig {
  folder = new DesignFolder();
  readonly compiler = new Compiler();

  private constructor(
    readonly evaluator: Evaluator,
    /** The bundled script of the design's process. */
    readonly entry: string,
    private readonly input: DesignInput,
    private readonly removeBundle: () => void,
  ) {
    this.folder.remove();
  }

  static async create(process = standInEvaluator, given: DesignInput = input): Promise<EvaluatorRig> {
    const { entry, remove } = await bundleEvaluator(process);
    return new EvaluatorRig(new Evaluator({ entry }), entry, given, remove);
  }

  async dispose(): Promise<void> {
    await this.evaluator.dispose();
    await this.compiler.dispose();
    this.removeBundle();
  }

  newFolder(): void {
    this.folder = new DesignFolder();
  }

  /** Evaluates a design (or files of which one is the design), which must compile. */
  async run(files: Record<string, string> | string, more: More = {}): Promise<Evaluation> {
    this.folder.write(typeof files === "string" ? { [designName]: files } : files);
    const { design, messages } = await this.compiler.compile(this.folder.file(designName));
    expect(messages).toEqual([]);
    return this.evaluator.evaluate({ ...design!, provideInput: () => this.input, ...more });
  }

  /** The one error of a design, which must stand at its mark. */
  async errorAtMark(files: Record<string, string> | string, more: More = {}): Promise<Message> {
    const { result, messages } = await this.run(files, more);
    const errors = messages.filter(({ severity }) => severity === "error");
    expect(errors).toHaveLength(1);
    expect(result).toBeUndefined();
    const { text, file, line, column } = errors[0];
    expect({ text, file, line, column }).toEqual({ text, ...this.folder.place(designName) });
    return errors[0];
  }
}
