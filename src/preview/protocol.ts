import type { ParameterDeclaration, ParameterValue } from "../design/part";
import type { Message, Place } from "../message";

/**
 * What the extension and the preview tell each other. Geometry is in mm in the head frame and travels as trimmed
 * buffers, never as JSON. Every message about a build carries its version: versions only grow, and the receiver drops
 * what is older than what it shows.
 */

/** A mesh as it travels: x, y, z of each vertex, and three vertex indices per triangle. */
export interface MeshBuffers {
  /** Float32 */
  readonly positions: ArrayBuffer;
  /** Uint32 */
  readonly triangles: ArrayBuffer;
}

/** A part's own surface in a draft. `mesh` is absent where the receiver already has that key from the last draft. */
export interface DraftPart {
  /** Index among the design's parts, cuts counted. */
  readonly part: number;
  /** Stands for the shape of the part. */
  readonly key: string;
  readonly mesh?: MeshBuffers;
}

/** What the preview says of a part when it is pointed at. */
export interface PartFacts {
  readonly name: string;
  readonly kind: "tube" | "solid" | "cut";
  /** Length of the path, mm. */
  readonly length?: number;
  /** Least and greatest radius, mm. */
  readonly radius?: readonly [least: number, most: number];
  /** Share of the printed mass, g; known once the solid is. */
  readonly mass?: number;
  /** The call that made it. */
  readonly origin?: Place;
}

export type PlateOutline =
  | { readonly shape: "rectangular"; readonly width: number; readonly depth: number }
  | { readonly shape: "round"; readonly diameter: number };

/** The printer's build volume as the piece lies in it. */
export interface PlateScene {
  readonly printer: string;
  readonly outline: PlateOutline;
  /** Build height, mm. */
  readonly height: number;
  readonly fits: boolean;
  /** "as designed", or how the piece is to be tilted and turned, or by how much it is too large. */
  readonly summary: string;
  /** Plate frame (origin at its middle, z up) to head frame: 16 numbers, column by column. */
  readonly toHead: readonly number[];
}

/** What is said of the whole piece, ready to be read. */
export interface Fact {
  /** For example "Mass", "Box", "Plate". */
  readonly label: string;
  /** For example "84 g printed". */
  readonly value: string;
  readonly tone?: "good" | "bad";
}

export type BuildPhase = "idle" | "building" | "ready" | "failed" | "cancelled";

/** How the build stands. Sent often while building. */
export interface BuildStateMessage {
  readonly kind: "state";
  readonly version: number;
  readonly phase: BuildPhase;
  /** What goes on, for example "uniting". */
  readonly stage?: string;
  /** 0 to 1, where known. */
  readonly share?: number;
  /** The model that is shown is older than the text: the last build failed, was cancelled, or goes on. */
  readonly isOutdated: boolean;
  /** What was found: errors, warnings, notes. */
  readonly messages: readonly Message[];
}

/** What a design is, apart from its geometry. */
export interface DesignMessage {
  readonly kind: "design";
  readonly version: number;
  /** Stands for the design over reloads of the window: the preview keeps it in its state, so that a panel can be restored. */
  readonly uri?: string;
  /** Base name of the design file. */
  readonly file: string;
  readonly headpiece: string;
  readonly wearer: string;
  readonly parameters: readonly ParameterDeclaration[];
  /** The values that are shown, by name. */
  readonly values: Readonly<Record<string, ParameterValue>>;
  /** What the file itself says, by name: `values` differs where the person moved a control. */
  readonly fileValues: Readonly<Record<string, ParameterValue>>;
  readonly parts: readonly PartFacts[];
  /** In the order in which they are to be read; grows as the build goes on. */
  readonly facts: readonly Fact[];
  readonly cautions: readonly string[];
  /** The view follows the active design (false) or stays on this one (true). */
  readonly isLocked: boolean;
}

/** The swept parts, before anything is united. The receiver forgets keys that are not named. */
export interface DraftMessage {
  readonly kind: "draft";
  readonly version: number;
  readonly parts: readonly DraftPart[];
}

/** The finished solid. */
export interface SolidMessage {
  readonly kind: "solid";
  readonly version: number;
  /** See `geometry/packedMesh`: for each triangle it names the part, −1 for what the head left. */
  readonly packed: Uint8Array;
}

/** How the piece is judged: `wear` it, `adjust` it first, or `dont` wear it. */
export type VerdictWord = "wear" | "adjust" | "dont";

/** One question about fit and wear with its answer, ready to be read. */
export interface WearRow {
  /** Name of the check, for example `gap`. */
  readonly check: string;
  /** The question, for example "Way on". */
  readonly label: string;
  /** The answer in one line. */
  readonly value: string;
  readonly tone: "good" | "note" | "warning" | "bad";
}

/** A finding that has a place on the piece. */
export interface WearMark {
  /** mm */
  readonly at: readonly [number, number, number];
  readonly severity: "error" | "warning" | "note";
  readonly check: string;
  readonly text: string;
  readonly part?: string;
  readonly place?: Place;
}

/** How the piece comes off the head; backwards, how it is put on. */
export type WayOff =
  /** Along `direction`, a unit vector, by `distance` mm. */
  | {
      readonly kind: "slide";
      readonly direction: readonly [number, number, number];
      readonly distance: number;
    }
  /** About an axis through `origin`, right-handed, by `degrees`. */
  | {
      readonly kind: "hinge";
      readonly origin: readonly [number, number, number];
      readonly axis: readonly [number, number, number];
      readonly degrees: number;
    };

/** What the checks of fit and wear found so far. Sent again, whole, as each is done. */
export interface WearScene {
  /** Once all checks are done. */
  readonly verdict?: { readonly word: VerdictWord; readonly reasons: readonly string[] };
  /** In the order in which they are to be read. */
  readonly rows: readonly WearRow[];
  readonly marks: readonly WearMark[];
  readonly wayOff?: {
    readonly motion: WayOff;
    readonly passes: boolean;
    /** How it is put on, in one clause. */
    readonly words: string;
    /** Where it is tightest, mm, and how many mm too small or (negative) to spare. */
    readonly tightest?: { readonly at: readonly [number, number, number]; readonly tooSmall: number };
  };
  /** Where it rests, mm, with the share of its weight there, 0 to 1. */
  readonly contacts?: readonly { readonly at: readonly [number, number, number]; readonly share: number }[];
  /** Centre of mass of the piece, and the neck joint, mm. */
  readonly balance?: {
    readonly centre: readonly [number, number, number];
    readonly joint: readonly [number, number, number];
  };
  /** Polar plot of the visual field, a whole SVG document. */
  readonly sightPlot?: string;
}

/** One way to print the piece, with what it takes. */
export interface PlanOrientation {
  /** What it is best at, for example "as designed", "fewest hours". */
  readonly name: string;
  /** How the piece stands, in one clause: "lying back, tilted 35°". */
  readonly words: string;
  readonly orientation:
    | "as designed"
    | { readonly tilt: number; readonly towards: number; readonly turn: number };
  /** Figures, ready to be read, the same for all in the same order. */
  readonly figures: readonly { readonly label: string; readonly value: string; readonly isBest: boolean }[];
  /** A small picture of the piece on the plate, a whole SVG document. */
  readonly picture?: string;
  readonly isChosen: boolean;
}

/** How the piece is printed. Sent again, whole, as the plan grows. */
export interface PlanScene {
  /** Nothing more comes. */
  readonly isWhole: boolean;
  readonly printer: string;
  readonly outline: PlateOutline;
  /** Build height, mm. */
  readonly height: number;
  /** Plate frame (origin at its middle, z up) to head frame, as the piece is to be printed: 16 numbers, column by column. */
  readonly toHead: readonly number[];
  /** A surface that leans out farther from the vertical is held up, degrees. */
  readonly overhangAngle: number;
  /** Hours, filament, price, supports and so on, in the order in which they are to be read. */
  readonly rows: readonly {
    readonly label: string;
    readonly value: string;
    readonly tone: "good" | "note" | "warning" | "bad";
  }[];
  readonly marks: readonly Omit<WearMark, "check">[];
  readonly orientations: readonly PlanOrientation[];
  readonly layers?: {
    readonly count: number;
    /** mm; layer i lies from i to i + 1 times this over the plate. */
    readonly height: number;
    /** Float64: time from the start to the end of each layer, s. */
    readonly seconds: ArrayBuffer;
    /** Float64: filament from the start to the end of each layer, m. */
    readonly metres: ArrayBuffer;
    /** Layers within which a spool ends. */
    readonly spoolEnds: readonly number[];
  };
}

/** What stands on the plate besides the piece: supports, props; or the pieces into which it is cut. */
export type PlanBody = "supports" | "props" | "pieces";

/** A part that is not as it was in the commit. */
export interface ComparedPart {
  readonly name: string;
  readonly change: "added" | "removed" | "changed" | "renamed";
  /** What changed of it, in one clause; empty where the word says all. */
  readonly what: string;
  /** Index among the design's parts, −1 where it has none of that name. */
  readonly part: number;
}

/** A piece beside its version in a commit, ready to be read. */
export interface ComparisonScene {
  /** The commit as it was asked for, its short hash, its first line. */
  readonly revision: { readonly asked: string; readonly hash: string; readonly subject: string };
  /** All of it in one sentence. */
  readonly sentence: string;
  /** Measurements that differ, in the order in which they are to be read. */
  readonly rows: readonly {
    readonly label: string;
    readonly before: string;
    readonly now: string;
    readonly change: string;
  }[];
  /** Findings that came and went, a sentence each. */
  readonly findings: readonly string[];
  /** Volumes that only one of the two has, for example "12.4 cm³". */
  readonly added: string;
  readonly removed: string;
  /** How far the two surfaces lie apart at most, and where, mm; absent where they are the same. */
  readonly greatest?: { readonly text: string; readonly at: readonly [number, number, number] };
  readonly parts: readonly ComparedPart[];
  /** What is to be known of how it was compared. */
  readonly notes: readonly string[];
}

/** A comparison with its surfaces, in the head frame. */
export interface ComparisonMessage {
  readonly kind: "comparison";
  readonly version: number;
  readonly scene: ComparisonScene;
  readonly old: MeshBuffers;
  /** What only the piece of now has, and what only the old one had. */
  readonly added: MeshBuffers;
  readonly removed: MeshBuffers;
}

/** How a comparison stands: it is being made, made again, or came to nothing. */
export interface ComparingMessage {
  readonly kind: "comparing";
  readonly version: number;
  /** The commit, as a person knows it: "HEAD", a short hash. */
  readonly revision: string;
  /** What goes on; absent when it is done. */
  readonly stage?: string;
  /** What is shown is of an older piece. */
  readonly isOutdated: boolean;
  /** Why there is none, or none of the piece of now. */
  readonly messages: readonly Message[];
}

/** A number at each vertex of the solid of the same version, to be shown as colour. */
export interface FieldMessage {
  readonly kind: "field";
  readonly version: number;
  /** For example "Gap to the head". */
  readonly title: string;
  readonly unit: "mm";
  /** Int16, hundredths of the unit, one a vertex in the order of the solid; −32768 where there is none. */
  readonly values: ArrayBuffer;
}

export type ToPreview =
  | FieldMessage
  | { readonly kind: "wear"; readonly version: number; readonly scene: WearScene }
  | { readonly kind: "plan"; readonly version: number; readonly scene: PlanScene }
  /** In the plate's frame; without a mesh there is none of it. */
  | {
      readonly kind: "planBody";
      readonly version: number;
      readonly body: PlanBody;
      readonly mesh?: MeshBuffers;
    }
  | ComparisonMessage
  | ComparingMessage
  /** The piece is shown alone again. */
  | { readonly kind: "comparisonEnded" }
  | DesignMessage
  | DraftMessage
  | SolidMessage
  | BuildStateMessage
  /** The bare head form; sent when the wearer changes. */
  | { readonly kind: "head"; readonly version: number; readonly mesh: MeshBuffers }
  | { readonly kind: "plate"; readonly version: number; readonly plate: PlateScene }
  /** The part that the editor's cursor is in, −1 for none. */
  | { readonly kind: "cursor"; readonly part: number }
  /** The drawing sheet, for a view without WebGL. */
  | { readonly kind: "sheet"; readonly version: number; readonly svg: string }
  /** Nothing can be shown, and why: Restricted Mode, no design open. Replaces the picture. */
  | {
      readonly kind: "notice";
      readonly title: string;
      readonly text: string;
      readonly action?: { readonly label: string; readonly command: PreviewCommand };
    };

/** Commands that the preview may ask for. */
export const previewCommands = [
  "build",
  "cancel",
  "export",
  "chooseWearer",
  "choosePrinter",
  "chooseMaterial",
  "showProblems",
  "showReport",
  "toggleLock",
  "manageTrust",
  "newDesign",
  "compareWithCommit",
  "endComparison",
] as const;
export type PreviewCommand = (typeof previewCommands)[number];

export type FromPreview =
  /** The view is there and wants everything. */
  | { readonly kind: "ready"; readonly webgl: boolean }
  | { readonly kind: "command"; readonly command: PreviewCommand }
  /** Shows a place in the editor. */
  | { readonly kind: "goTo"; readonly place: Place }
  /** Builds with these values without touching the file: all that differ from the file's. */
  | { readonly kind: "setValues"; readonly values: Readonly<Record<string, ParameterValue>> }
  /** Writes into the design which way up it is printed. */
  | { readonly kind: "useOrientation"; readonly orientation: PlanOrientation["orientation"] }
  | { readonly kind: "writeValues" }
  | { readonly kind: "resetValues" }
  /** A picture of the view to be saved: PNG. */
  | { readonly kind: "picture"; readonly png: ArrayBuffer }
  /** A draft or a solid of this version stands on the screen. */
  | {
      readonly kind: "drawn";
      readonly version: number;
      readonly what: "draft" | "solid";
      /** From the message's arrival to the end of drawing, ms. */
      readonly milliseconds: number;
    }
  /** The commit, by its short hash, that the picture shows the piece beside; absent: none any more. */
  | { readonly kind: "compared"; readonly revision?: string }
  /** Something went wrong in the view itself. */
  | { readonly kind: "fault"; readonly text: string };
