import type {
  BuildStateMessage,
  ComparingMessage,
  ComparisonScene,
  DesignMessage,
  FieldMessage,
  PlanBody,
  ToPreview,
} from "../protocol";

type NoticeMessage = Extract<ToPreview, { kind: "notice" }>;
type SheetMessage = Extract<ToPreview, { kind: "sheet" }>;
type WearMessage = Extract<ToPreview, { kind: "wear" }>;
export type PlanMessage = Extract<ToPreview, { kind: "plan" }>;

/** What the preview shows, without the geometry: of which version each thing is. */
export interface ShownState {
  readonly design?: DesignMessage;
  readonly build?: BuildStateMessage;
  /** The model that stands in the picture. */
  readonly picture?: { readonly version: number; readonly what: "draft" | "solid" };
  readonly headVersion?: number;
  readonly plateVersion?: number;
  readonly sheet?: SheetMessage;
  /** What the checks of fit and wear found so far. */
  readonly wear?: WearMessage;
  /** The last that had a verdict: it stays until the next one. */
  readonly judged?: WearMessage;
  readonly field?: FieldMessage;
  /** How the piece is printed, as far as it is planned. */
  readonly plan?: PlanMessage;
  /** The last plan that was whole: it stays until the next one has something to say. */
  readonly planned?: PlanMessage;
  /** Of which version what stands on the plate besides the piece is. */
  readonly planBodies?: Readonly<Partial<Record<PlanBody, number>>>;
  /** The piece beside its version in a commit. */
  readonly comparison?: { readonly version: number; readonly scene: ComparisonScene };
  /** How the comparison stands; absent: the piece is shown alone. */
  readonly comparing?: ComparingMessage;
  /** Instead of the picture. */
  readonly notice?: NoticeMessage;
  /** The part that the editor's cursor is in, −1 for none. */
  readonly cursor: number;
}

export const nothingShown: ShownState = { cursor: -1 };

/**
 * What is shown after a message: the very same state where the message is older than what it would replace. A draft
 * never replaces the solid of its own version, and the model of another design goes when the design changes.
 */
export function receive(state: ShownState, message: ToPreview): ShownState {
  switch (message.kind) {
    case "design": {
      if (isOlder(message.version, state.design?.version)) return state;
      const next = { ...state, design: message, notice: undefined };
      if (state.design === undefined || isSameDesign(state.design, message)) return next;
      const isOfOther = (version: number | undefined) => version !== undefined && version < message.version;
      return {
        ...next,
        cursor: -1,
        comparison: undefined,
        comparing: undefined,
        picture: isOfOther(state.picture?.version) ? undefined : state.picture,
        wear: isOfOther(state.wear?.version) ? undefined : state.wear,
        judged: isOfOther(state.judged?.version) ? undefined : state.judged,
        field: isOfOther(state.field?.version) ? undefined : state.field,
        plan: isOfOther(state.plan?.version) ? undefined : state.plan,
        planned: isOfOther(state.planned?.version) ? undefined : state.planned,
        sheet: isOfOther(state.sheet?.version) ? undefined : state.sheet,
        build: isOfOther(state.build?.version) ? undefined : state.build,
      };
    }
    case "state":
      return isOlder(message.version, state.build?.version)
        ? state
        : { ...state, build: message, ...(message.phase === "building" && { notice: undefined }) };
    case "draft":
      return isOlder(message.version, state.picture?.version) ||
        (message.version === state.picture?.version && state.picture.what === "solid")
        ? state
        : { ...state, picture: { version: message.version, what: "draft" }, notice: undefined };
    case "solid":
      return isOlder(message.version, state.picture?.version)
        ? state
        : { ...state, picture: { version: message.version, what: "solid" }, notice: undefined };
    case "head":
      return isOlder(message.version, state.headVersion) ? state : { ...state, headVersion: message.version };
    case "plate":
      return isOlder(message.version, state.plateVersion)
        ? state
        : { ...state, plateVersion: message.version };
    case "wear":
      return isOlder(message.version, state.wear?.version) || isOlder(message.version, state.picture?.version)
        ? state
        : { ...state, wear: message, ...(message.scene.verdict && { judged: message }) };
    case "field":
      return isOlder(message.version, state.field?.version) ||
        isOlder(message.version, state.picture?.version)
        ? state
        : { ...state, field: message };
    case "plan":
      return isOlder(message.version, state.plan?.version) || isOlder(message.version, state.picture?.version)
        ? state
        : { ...state, plan: message, ...(message.scene.isWhole && { planned: message }) };
    case "planBody":
      return isOlder(message.version, state.planBodies?.[message.body]) ||
        isOlder(message.version, state.picture?.version)
        ? state
        : { ...state, planBodies: { ...state.planBodies, [message.body]: message.version } };
    case "comparison": {
      if (isOlder(message.version, state.comparison?.version)) return state;
      const { version, scene } = message;
      return { ...state, comparison: { version, scene } };
    }
    case "comparing": {
      if (isOlder(message.version, state.comparing?.version)) return state;
      // Of another commit nothing of the one before is shown.
      const isOther = state.comparing !== undefined && state.comparing.revision !== message.revision;
      return { ...state, comparing: message, ...(isOther && { comparison: undefined }) };
    }
    case "comparisonEnded":
      return state.comparison === undefined && state.comparing === undefined
        ? state
        : { ...state, comparison: undefined, comparing: undefined };
    case "sheet":
      return isOlder(message.version, state.sheet?.version) ? state : { ...state, sheet: message };
    case "cursor":
      return message.part === state.cursor ? state : { ...state, cursor: message.part };
    case "notice":
      return { ...state, notice: message };
  }
}

const isOlder = (version: number, shown: number | undefined): boolean =>
  shown !== undefined && version < shown;

/** Whether two messages are about one design file. */
export const isSameDesign = (one: DesignMessage, other: DesignMessage): boolean =>
  one.uri === other.uri && one.file === other.file;
