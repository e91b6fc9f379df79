import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

/** Stands in a design's text before the character that a message must point at. */
export const mark = "/*@*/";

/** A folder of design files for one test. */
export class DesignFolder {
  readonly path = mkdtempSync(join(tmpdir(), "anadem-design-"));

  file(name: string): string {
    return join(this.path, name);
  }

  write(files: Record<string, string>): void {
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(dirname(this.file(name)), { recursive: true });
      writeFileSync(this.file(name), text);
    }
  }

  /** Where the mark (the `nth`, from 0) stands in a file, as a message would say it. */
  place(name: string, nth = 0): { file: string; line: number; column: number } {
    const text = readFileSync(this.file(name), "utf8");
    let at = -1;
    for (let i = 0; i <= nth; i++) at = text.indexOf(mark, at + 1);
    if (at < 0) throw new Error(`${name} has no mark ${nth}`);
    const before = text.slice(0, at + mark.length);
    const line = before.split("\n").length;
    return { file: this.file(name), line, column: before.length - before.lastIndexOf("\n") };
  }

  remove(): void {
    rmSync(this.path, { recursive: true, force: true });
  }
}
