import { MessageError } from "../message";
import { didYouMean } from "../nearestName";
import { strictModule } from "./pureWorld";

const jscadName = "@jscad/modeling";

/**
 * The `require` of a design's script: `anadem`, `@jscad/modeling` and the parts of the latter by their file
 * (`@jscad/modeling/src/primitives`, `…/src/operations/booleans/union`), which are looked up in the library's
 * own tree of exports, since the process carries it as one piece.
 */
export function providedModules(language: object, jscad: object): (name: string) => unknown {
  const strictLanguage = strictModule("anadem", language);
  const strictJscad = strictModule(jscadName, jscad);
  return (name) => {
    if (name === "anadem") return strictLanguage;
    if (name === jscadName) return strictJscad;
    if (name.startsWith(`${jscadName}/`)) return jscadPart(jscad, name);
    throw new MessageError([
      {
        id: "import-not-allowed",
        severity: "error",
        text: `"${name}" cannot be imported: a design imports only from anadem, @jscad/modeling and relative files`,
      },
    ]);
  };
}

function jscadPart(jscad: object, name: string): unknown {
  const steps = name
    .slice(jscadName.length + 1)
    .replace(/\.js$/, "")
    .split("/")
    .filter((step, index) => !(index === 0 && step === "src") && step !== "operations" && step !== "index");
  let part: unknown = jscad;
  for (const step of steps) {
    const has: boolean = typeof part === "object" && part !== null && step in part;
    if (!has) {
      const suggestion = didYouMean(step, Object.keys(part as object)) ?? `import it from "${jscadName}"`;
      throw new MessageError([
        { id: "import-not-found", severity: "error", text: `${jscadName} has no part "${name}"`, suggestion },
      ]);
    }
    part = (part as Record<string, unknown>)[step];
  }
  return part;
}
