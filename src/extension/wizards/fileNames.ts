import type { Localiser } from "../localiser";
import { refused, type Verdict } from "./verdict";

/** Names that Windows keeps for devices, whatever ending follows (Microsoft's guide "Naming Files, Paths, and Namespaces"). */
const kept = /^(?:con|prn|aux|nul|com\d|lpt\d)$/;
const longest = 60;

/** A name for people as one for a file: `Pip, the Minnow` → `pip-the-minnow`; empty where nothing is left. */
export const fileNameOf = (name: string): string =>
  name
    .normalize("NFC")
    .toLowerCase()
    .replace(/['’]/g, "")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, longest)
    .replace(/-+$/, "");

/**
 * What is wrong with the name of a new file; undefined where nothing is.
 * @param taken whether there is a file of that name already
 */
export function checkFileName(
  name: string,
  taken: (name: string) => boolean,
  l10n: Localiser,
): Verdict | undefined {
  if (name === "") return refused(l10n.t("Give a name, such as reed-crown."));
  const proper = fileNameOf(name);
  if (proper === "") return refused(l10n.t("Use letters and digits, as in reed-crown."));
  if (name.length > longest) return refused(l10n.t("At most {0} characters.", longest));
  if (proper !== name) return refused(l10n.t("Small letters, digits and single dashes: write {0}.", proper));
  if (kept.test(name))
    return refused(l10n.t("Windows keeps the name {0} for a device: choose another.", name));
  if (taken(name)) return refused(l10n.t("There is a file of that name already: choose another."));
  return undefined;
}
