import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { MessageError } from "../../message";
import { dateOf } from "../../print/schedule/calendar";

const endings = { design: ".headpiece.ts", wearer: ".wearer.json", printer: ".printer.json" } as const;

/** Days until the first night of a new cast: something to be changed. */
const weeksAhead = 8 * 7;

/**
 * The text of a cast to begin with: each design of a folder with the wearer that it names, on all printers of the
 * folder. Nothing is run: names of files in the design's text count.
 * @param today day as in `calendar.ts`
 * @throws MessageError where the folder has no design that names a wearer, or no printer
 */
export function startingCast(folder: string, name: string, today: number): string {
  const names = readdirSync(folder).sort();
  const of = (kind: keyof typeof endings) => names.filter((each) => each.endsWith(endings[kind]));
  const pieces = of("design").flatMap((design) => {
    const wearer = wearerIn(readFileSync(join(folder, design), "utf8"));
    return wearer === undefined ? [] : [{ design, wearer }];
  });
  if (pieces.length === 0) {
    throw nothing(
      `${folder} has no design that names a wearer`,
      'begin one with anadem new NAME, or write wearer: "name.wearer.json" in a headpiece',
    );
  }
  const printers = of("printer").map((file) => ({ file }));
  if (printers.length === 0) {
    throw nothing(
      `${folder} has no printer`,
      'write one as NAME.printer.json, such as { "name": "Hall printer", "plate": { "shape": "rectangular", "width": 220, "depth": 220 }, "height": 250 }',
    );
  }
  const cast = { production: titleOf(name), opens: dateOf(today + weeksAhead), ready: 7, pieces, printers };
  return `${JSON.stringify(cast, undefined, 2)}\n`;
}

/** The first file of a wearer that stands in quotes. */
const wearerIn = (text: string): string | undefined => /["'`]([^"'`\n]+\.wearer\.json)["'`]/.exec(text)?.[1];

/** `tide-court` → `Tide court`. */
function titleOf(name: string): string {
  const words = name.replace(/[-_.]+/g, " ").trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const nothing = (text: string, suggestion: string) =>
  new MessageError([{ id: "no-cast", severity: "error", text, suggestion }]);
