import { MessageError } from "../message";

/** Hat sizes by system. Letters (S, M, L) vary by maker and are not among them. */
export const HAT_SYSTEMS = ["metric", "US", "UK"] as const;
export type HatSystem = (typeof HAT_SYSTEMS)[number];

/** A hat size: in the metric system the girth in cm, in the US and UK systems a diameter in inches by eighths. */
export interface HatSize {
  readonly system: HatSystem;
  readonly size: number;
}

const MM_PER_SIZE = Math.PI * 25.4;

/** The step from one size to the next as a girth, mm. */
export const hatSizeStep = (system: HatSystem): number => (system === "metric" ? 10 : MM_PER_SIZE / 8);

/**
 * Head girth that a hat size is made for, mm: metric = girth in cm; US = girth in inches over π; UK = US less 1/8
 * (a milliner's chart: 54 cm is US 6 3/4, 58 cm is US 7 1/4).
 */
export const girthOfHatSize = ({ system, size }: HatSize): number => {
  switch (system) {
    case "metric":
      return size * 10;
    case "US":
      return size * MM_PER_SIZE;
    case "UK":
      return (size + 1 / 8) * MM_PER_SIZE;
  }
};

/** Hat size of a girth (mm), to the nearest cm or eighth. */
export const hatSizeOfGirth = (girth: number, system: HatSystem): HatSize => {
  if (system === "metric") return { system, size: Math.round(girth / 10) };
  const us = Math.round((8 * girth) / MM_PER_SIZE) / 8;
  return { system, size: system === "US" ? us : us - 1 / 8 };
};

const EIGHTHS = ["", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];

/** A hat size as people write it: `58`, `US 7 1/4`, `UK 7 1/8`. */
export const formatHatSize = ({ system, size }: HatSize): string => {
  if (system === "metric") return String(size);
  const whole = Math.floor(size);
  const eighth = EIGHTHS[Math.round((size - whole) * 8)] ?? "";
  return `${system} ${whole}${eighth ? ` ${eighth}` : ""}`;
};

const VULGAR: Readonly<Record<string, number>> = {
  "⅛": 1 / 8,
  "¼": 1 / 4,
  "⅜": 3 / 8,
  "½": 1 / 2,
  "⅝": 5 / 8,
  "¾": 3 / 4,
  "⅞": 7 / 8,
};

/** Sizes that heads have. */
const RANGE: Readonly<Record<HatSystem, readonly [number, number]>> = {
  metric: [40, 72],
  US: [5, 9],
  UK: [4.875, 8.875],
};

const refuse = (given: unknown, why: string, suggestion: string): never => {
  throw new MessageError([
    {
      id: "hat-size-unreadable",
      severity: "error",
      field: "hatSize",
      text: `The hat size ${JSON.stringify(given)} ${why}.`,
      suggestion,
    },
  ]);
};

const HOW = 'Write "58" (metric, cm), "US 7 1/4" or "UK 7 1/8".';

/** A number as hatters write it: 58, 7.25, 7 1/4, 7-1/4, 7¼. Undefined where it is none. */
const readNumber = (text: string): number | undefined => {
  const match = /^(\d+(?:\.\d+)?)(?:[\s-]*(?:([1-7])\/([248])|([⅛¼⅜½⅝¾⅞])))?$/.exec(text);
  if (!match) return undefined;
  const fraction = match[2] ? Number(match[2]) / Number(match[3]) : match[4] ? VULGAR[match[4]] : 0;
  if (fraction >= 1 || (fraction > 0 && match[1].includes("."))) return undefined;
  return Number(match[1]) + fraction;
};

/**
 * Reads a hat size: a number or a text such as `58`, `58 cm`, `7 1/4`, `7¼`, `US 7 1/4`, `UK 7 1/8`. Without a
 * system, numbers below 10 are US, others metric. Throws a MessageError for anything that is no hat size.
 */
export const parseHatSize = (given: string | number, system?: HatSystem): HatSize => {
  const text = String(given).trim();
  const match = /^(?:(US|UK|metric)\s*)?(.*?)\s*(cm)?$/i.exec(text) as RegExpExecArray;
  const named = HAT_SYSTEMS.find((name) => name.toLowerCase() === match[1]?.toLowerCase());
  if (/^(x*[sml]|x+l|\d+x?l)$/i.test(match[2])) {
    refuse(given, "is a letter, and letters vary by maker", HOW);
  }
  const size = readNumber(match[2]);
  if (size === undefined) return refuse(given, "is no hat size", HOW);
  const chosen = system ?? named ?? (match[3] ? "metric" : size < 10 ? "US" : "metric");
  if ((named && named !== chosen) || (match[3] && chosen !== "metric")) {
    refuse(given, `contradicts the system ${chosen}`, HOW);
  }
  const [least, most] = RANGE[chosen];
  if (size < least || size > most) {
    const likely = HAT_SYSTEMS.find((name) => size >= RANGE[name][0] && size <= RANGE[name][1]);
    refuse(
      given,
      `is outside the ${chosen} sizes, ${least} to ${most}`,
      likely ? `Did you mean the ${likely} system? ${HOW}` : HOW,
    );
  }
  if (chosen !== "metric" && Math.abs(size * 8 - Math.round(size * 8)) > 1e-6) {
    refuse(given, `is not a whole number of eighths, as ${chosen} sizes are`, HOW);
  }
  return { system: chosen, size };
};
