import { basename } from "node:path";
import { refitCautions } from "../../export/refitCautions";
import type { Scope, TableMessage } from "../../pages/refitTable/protocol";
import { fileEndings } from "../designState";
import { distinctLabels } from "../tree/labels";
import type { RefitRows } from "./refitRows";

/** What the table is of. */
export interface TableSubject {
  readonly scope: Scope;
  /** The design that it is of, or was last. */
  readonly design?: { readonly uri: string; readonly path: string };
  /** The wearer that a design's preview shows it on, by the design's path. */
  readonly chosen: ReadonlyMap<string, string | undefined>;
}

/** The table as the page is told of it. */
export function tableMessage(
  rows: Pick<RefitRows, "groups" | "run" | "messages">,
  { scope, design, chosen }: TableSubject,
): TableMessage {
  const { groups } = rows;
  const designLabels = labelsOf(
    groups.map((group) => group.design),
    fileEndings.design,
  );
  const wearerLabels = labelsOf(
    [...new Set(groups.flatMap((group) => group.rows.map(({ wearer }) => wearer)))],
    fileEndings.wearer,
  );
  const all = groups.flatMap((group) => group.rows);
  return {
    kind: "table",
    scope,
    ...(design && { design: { uri: design.uri, label: stem(design.path, fileEndings.design) } }),
    groups: groups.map((group) => ({
      design: group.design,
      label: designLabels.get(group.design) ?? group.design,
      rows: group.rows.map(({ key, wearer, state }) => ({
        key,
        label: wearerLabels.get(wearer) ?? wearer,
        state,
        isChosen: chosen.get(group.design) === wearer,
      })),
    })),
    run: rows.run,
    messages: rows.messages,
    cautions: refitCautions(all.flatMap(({ row }) => row ?? [])),
  };
}

const stem = (path: string, ending: string): string => basename(path).replace(ending, "");

/** What files are called, with as many folders as tell them apart. */
function labelsOf(paths: readonly string[], ending: string): Map<string, string> {
  const labels = distinctLabels(
    paths.map((path) => path.replaceAll("\\", "/")),
    ending,
  );
  return new Map(paths.map((path, i) => [path, labels[i]]));
}
