/** A file of a new design; `keep`: an older one of that name stays (`if-there`), or is renewed (`renew`). */
export interface StartingFile {
  /** Relative to the folder of the design, with slashes. */
  readonly path: string;
  readonly kind: "design" | "wearer" | "tsconfig" | "types";
  readonly content: string;
  readonly keep?: "if-there" | "renew";
}

/** Folder of the language's types beside a design. */
const typesFolder = ".anadem";

/**
 * What a new design begins with: itself, a wearer, and the types of the language, so that an editor completes and
 * type-checks with nothing installed.
 * @param types the bundled type declarations of the modules `anadem` and `@jscad/modeling`
 */
export function startingFiles(
  name: string,
  types: { readonly anadem: string; readonly modeling: string },
): StartingFile[] {
  return [
    { path: `${name}.headpiece.ts`, kind: "design", content: designText(name) },
    { path: `${name}.wearer.json`, kind: "wearer", content: wearerText },
    { path: "tsconfig.json", kind: "tsconfig", content: tsconfigText, keep: "if-there" },
    { path: `${typesFolder}/anadem.d.ts`, kind: "types", content: types.anadem, keep: "renew" },
    { path: `${typesFolder}/modeling.d.ts`, kind: "types", content: types.modeling, keep: "renew" },
  ];
}

const designText = (name: string) => `import { band, count, headpiece, length, onHead, tube } from "anadem";

export default headpiece({
  name: ${JSON.stringify(titleOf(name))},
  wearer: ${JSON.stringify(`${name}.wearer.json`)},
  parameters: {
    rays: count(7, { least: 3, most: 24, help: "rays around the head" }),
    reach: length(45, { least: 15, most: 120, help: "how far the rays stand off the head" }),
  },
  make({ head, parameters: { rays, reach } }) {
    const ring = band("ring", head.girthLine.raised(12), { radius: 6 });
    const around = head.around(rays, (azimuth, i) =>
      tube(
        \`ray \${i + 1}\`,
        [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 30, lift: 12 }), onHead({ azimuth, elevation: 50, lift: reach })],
        { radius: [6, 5, 3.5] },
      ),
    );
    return [ring, around];
  },
});
`;

const wearerText = `${JSON.stringify(
  {
    name: "A wearer",
    units: "mm",
    girth: 565,
    ease: { girth: 8 },
    notes: "Only the girth is required. Measure length, breadth and crownHeight too for a better fit.",
  },
  undefined,
  2,
)}
`;

const tsconfigText = `${JSON.stringify(
  {
    compilerOptions: {
      target: "ES2022",
      module: "ESNext",
      moduleResolution: "bundler",
      strict: true,
      noEmit: true,
      skipLibCheck: true,
      types: [],
      paths: {
        anadem: [`./${typesFolder}/anadem.d.ts`],
        "@jscad/modeling": [`./${typesFolder}/modeling.d.ts`],
      },
    },
    include: ["**/*.ts"],
  },
  undefined,
  2,
)}
`;

/** `reed-crown` → `Reed crown`. */
function titleOf(name: string): string {
  const words = name.replace(/[-_.]+/g, " ").trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}
