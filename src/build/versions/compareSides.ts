import { named } from "../../export/changes/reportChange";
import { partsOfKind } from "../../export/changes/wordChanges";
import { changesSentence, type ReportChange, reportChanges } from "../../export/reportChanges";
import { solidDifferences } from "../../geometry/solid/difference";
import type { Kernel } from "../../geometry/solid/kernel";
import { greatestSurfaceDistance } from "../../geometry/surfaceDistance";
import type { Comparison, ComparisonMeshes, PartChange } from "./comparison";
import { partChanges } from "./partChanges";
import type { Revision } from "./revision";
import type { BuiltSide } from "./versionSide";

/** Two pieces against each other: volumes, distance, parts, measurements. */
export function compareSides(
  kernel: Kernel,
  design: string,
  revision: Revision,
  before: BuiltSide,
  after: BuiltSide,
): { comparison: Comparison; meshes: ComparisonMeshes } {
  const { added, removed } = solidDifferences(kernel, before.mesh, after.mesh);
  const { distance, at, within } = greatestSurfaceDistance(before.mesh, after.mesh);
  const parts = partChanges(before.parts, after.parts);
  const changes = reportChanges(before.report, after.report);
  return {
    comparison: {
      design,
      revision,
      added: added.volume,
      removed: removed.volume,
      greatestDistance: distance,
      greatestAt: at,
      greatestWithin: within,
      parts,
      changes,
      sentence: sentenceOf(changes, parts, before, after),
      sameHead: JSON.stringify(before.report.head) === JSON.stringify(after.report.head),
    },
    meshes: { old: before.mesh, added: added.mesh, removed: removed.mesh },
  };
}

/** Parts as they were compared stand in for what the reports alone tell of them. */
function sentenceOf(
  changes: readonly ReportChange[],
  parts: readonly PartChange[],
  before: BuiltSide,
  after: BuiltSide,
): string {
  const measured = changes.filter(({ key }) => !key.startsWith("parts."));
  if (measured.length === 0 && parts.length === 0) return "the same piece";
  const kinds = new Map([...before.parts, ...after.parts].map(({ name, kind }) => [name, kind]));
  const clause = (list: readonly PartChange[], key: string, word: string): ReportChange[] => {
    if (list.length === 0) return [];
    const counted = partsOfKind(list.map(({ name }) => ({ kind: kinds.get(name) ?? "part" })));
    const names = list.map(({ name, was }) => (was === undefined ? name : `${was} to ${name}`));
    return [{ key: `parts.${key}`, label: key, unit: "", sentence: `${counted} ${word} (${named(names)})` }];
  };
  const of = (change: PartChange["change"]) =>
    parts.filter((part) => part.change === change && part.was === undefined);
  return changesSentence([
    ...clause(of("added"), "added", "added"),
    ...clause(of("removed"), "removed", "removed"),
    ...clause(of("changed"), "changed", "changed"),
    ...clause(
      parts.filter(({ was }) => was !== undefined),
      "renamed",
      "renamed",
    ),
    ...measured,
  ]);
}
