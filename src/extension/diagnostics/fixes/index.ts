import { fixLastComma, fixMissingKey, fixMissingName, fixMissingUnits, fixNoWearer } from "./additions";
import type { Fix, FixContext, FixFinder } from "./fix";
import {
  fixFileName,
  fixImportName,
  fixImportPath,
  fixUnknownKey,
  fixUnknownOption,
  fixUnknownWord,
} from "./names";
import { fixOutOfRange, fixTipOnClosedPath, fixTwoEases } from "./values";

/** Who knows a fix for which message. */
export const fixFinders: Readonly<Record<string, FixFinder>> = {
  "unknown-option": fixUnknownOption,
  "unknown-word": fixUnknownWord,
  "import-not-found": fixImportPath,
  "import-not-allowed": fixImportPath,
  "import-name": fixImportName,
  "unknown-key": fixUnknownKey,
  "file-not-found": fixFileName,
  "out-of-range": fixOutOfRange,
  "two-eases": fixTwoEases,
  "tip-on-closed-path": fixTipOnClosedPath,
  "no-wearer": fixNoWearer,
  "missing-units": fixMissingUnits,
  "missing-name": fixMissingName,
  "missing-key": fixMissingKey,
  "json-syntax": fixLastComma,
};

/** The plain fixes of a finding, the likeliest first; none for most. */
export const fixesFor = (context: FixContext): Fix[] => fixFinders[context.message.id]?.(context) ?? [];
