import { wayInWords } from "../../checks/passage/wayOnWords";
import { verdictOf } from "../../checks/verdict";
import { sightPlot } from "../../export/sightPlot";
import { composeAnswers } from "../../export/wearReport";
import { wearLines } from "../../export/wearSentences";
import type { WayOff, WearScene } from "../../preview/protocol";
import type { KnownWear } from "../builds/designRecord";
import { markOf } from "./findingMarks";

/** What a view shows of the fit and wear that is known so far. */
export function wearScene({ answers, findings, isWhole }: KnownWear): WearScene {
  const { weight, sight, stayOn } = answers;
  const off = wayOffOf(answers);
  return {
    ...(isWhole && { verdict: verdictOf(findings) }),
    rows: wearLines({ ...composeAnswers(answers), findings }),
    marks: findings.flatMap((finding) => markOf(finding).map((mark) => ({ ...mark, check: finding.check }))),
    ...(off && { wayOff: off }),
    ...(stayOn && {
      contacts: stayOn.contacts.map(({ at, share }) => ({ at, share: Math.min(1, Math.max(0, share)) })),
    }),
    ...(weight && { balance: { centre: weight.centre, joint: weight.joint } }),
    ...(sight && { sightPlot: sightPlot(sight.sight) }),
  };
}

function wayOffOf({ wayOn }: KnownWear["answers"]): WearScene["wayOff"] {
  const way = wayOn?.ways[wayOn.best];
  if (!wayOn || !way) return undefined;
  const tooSmall =
    way.tooSmallBare > 0 ? way.tooSmallBare : way.tooSmallPressed > 0 ? way.tooSmallPressed : -way.roomBare;
  return {
    motion: motionOf(way.off),
    passes: wayOn.passes,
    words: wayInWords(way),
    tightest: { at: way.tightestAt, tooSmall },
  };
}

function motionOf(off: NonNullable<KnownWear["answers"]["wayOn"]>["ways"][number]["off"]): WayOff {
  if (off.kind === "slide") return { kind: "slide", direction: off.direction, distance: off.distance };
  return { kind: "hinge", origin: off.origin, axis: off.axis, degrees: off.degrees };
}
