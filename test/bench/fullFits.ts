import type { Finished } from "../../src/build/finished";
import { limitsInForce } from "../../src/build/limitsInForce";
import { weigh } from "../../src/build/weighing";
import { innerSurface } from "../../src/checks/fit/innerSurface";
import { gap } from "../../src/checks/gap";
import { fittedPiece } from "../../src/checks/sureness/fittedPiece";
import { HeadJudge } from "../../src/checks/sureness/headJudge";
import { wayOn } from "../../src/checks/wayOn";
import { WornHead } from "../../src/checks/wornHead";
import { WornPiece } from "../../src/checks/wornPiece";
import { HeadFamily } from "../../src/head/headFamily";
import { buildHeadForm } from "../../src/head/headForm";
import type { Measurements } from "../../src/head/measurements";
import { DRAWN_FIELDS, type DrawnField, type SurveyedHeads } from "../../src/head/surveyedHeads";
import { fullFit } from "../checks/sureness/fullFit";

/** Heads whose girth is farther from that of the wearer are not asked, mm. */
const nearGirth = 12;

/** A finished piece on some heads of about its wearer's girth: the light judge against the full checks. */
export function comparedWithFull(finished: Finished, heads: SurveyedHeads, most: number) {
  const { result, parties, solid, head } = finished;
  const limits = limitsInForce(finished);
  const { body, mass } = weigh(finished);
  const piece = new WornPiece({
    mesh: solid.mesh,
    parts: result.parts,
    material: parties.material,
    print: parties.print.settings,
    mass: mass.printed,
    centre: body.centre,
  });
  const own = head.form.measurements;
  const room = {
    ease: head.easeOffset,
    hair: parties.wearer.hairThickness,
    hairPressed: limits.hairPressed.value,
  };
  const worn = new WornHead(head.form, room);
  const inner = innerSurface(piece, worn);
  const { ways, best } = wayOn(piece, worn, limits);
  const fitted = fittedPiece(piece, worn, inner, ways[best].off);
  if (!fitted) throw new Error("nothing of the piece faces the head");
  const spread = { girth: 6, length: 6, breadth: 5, crownHeight: 6, earLength: 4.5, earProtrusion: 3 };
  const family = new HeadFamily(own, spread, ...fitted.elevations);
  const judge = new HeadJudge(fitted, family, room, limits);
  judge.correct(
    family.head((field) => own[field] ?? 0),
    {
      play: gap(piece, worn, limits, inner).play?.girth,
      tooSmallPressed: ways[best].tooSmallPressed,
      tooSmallBare: ways[best].tooSmallBare,
    },
  );
  const measureOf = (k: number) => (field: DrawnField) =>
    heads.values[k * DRAWN_FIELDS.length + DRAWN_FIELDS.indexOf(field)];
  const near = Array.from({ length: heads.count }, (_, k) => k).filter(
    (k) => Math.abs(measureOf(k)("girth") - own.girth) <= nearGirth,
  );
  const count = Math.min(most, near.length);
  let [same, playOff, depthOff] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const measure = measureOf(near[Math.floor((i * near.length) / count)]);
    const drawn = Object.fromEntries(DRAWN_FIELDS.map((field) => [field, measure(field)]));
    const measurements: Measurements = { ...own, ...drawn };
    const crown = measurements.crownHeight - own.crownHeight;
    const at = family.head(measure);
    const isLightFit = judge.fit(at, crown) === "fits";
    const light = judge.figures(at, crown);
    const full = fullFit(piece, new WornHead(buildHeadForm(measurements), room), crown, limits);
    if (full.fits === isLightFit) same++;
    playOff += Math.abs((light.play ?? 0) - (full.play ?? 0)) / count;
    depthOff += Math.abs(light.depth - full.depth) / count;
  }
  return { same, count, playOff, depthOff };
}
