import type { Finding } from "./findings";

/**
 * Who found what where. Designs that share a helper each have findings in it: one that has none left must not wipe
 * away those of the others, and what two of them found alike is shown once.
 */
export class FindingLedger {
  readonly #byDesign = new Map<string, ReadonlyMap<string, readonly Finding[]>>();

  /** Replaces what a design found; gives back the files whose findings may have changed. */
  replace(design: string, findings: readonly Finding[]): string[] {
    const files = new Set(this.#byDesign.get(design)?.keys());
    const byFile = new Map<string, Finding[]>();
    for (const finding of findings) {
      const others = byFile.get(finding.file);
      if (others) others.push(finding);
      else byFile.set(finding.file, [finding]);
    }
    for (const file of byFile.keys()) files.add(file);
    if (byFile.size > 0) this.#byDesign.set(design, byFile);
    else this.#byDesign.delete(design);
    return [...files];
  }

  /** All findings in a file, each once. */
  of(file: string): Finding[] {
    const seen = new Map<string, Finding>();
    for (const byFile of this.#byDesign.values()) {
      for (const finding of byFile.get(file) ?? []) {
        const { id, text, stretch } = finding;
        seen.set(JSON.stringify([id, text, stretch.startLine, stretch.startCharacter]), finding);
      }
    }
    return [...seen.values()];
  }

  /** A design that a finding in a file is of. */
  designOf(finding: Finding): string | undefined {
    for (const [design, byFile] of this.#byDesign) {
      if (byFile.get(finding.file)?.some(({ id, text }) => id === finding.id && text === finding.text))
        return design;
    }
    return undefined;
  }
}
