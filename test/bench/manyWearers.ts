import type { Figures } from "./figures";
import { programFolder } from "./programs";
import { say } from "./progress";
import { refitFigures } from "./refit";

/** Twelve wearers on all samples, on as many processes as the machine has cores; the bar of seconds is for two. */
export async function manyWearers({ tell, most, least }: Figures) {
  const found = await refitFigures(programFolder, say);
  const { rows, processes } = found;
  most(`refit of ${rows} rows, ${processes} processes`, found.seconds, "s", 30);
  most(`refit of ${rows} rows, most memory of all processes`, found.peakMB, "MB", 2500);
  tell(`refit of ${rows} rows, those that came to no solid`, found.failed, "");
  most(`refit of ${rows} rows, all good already`, found.idleSeconds, "s", 5);
  tell("refit killed half way, rows made before", found.madeBefore, "");
  least("refit resumed, share of them kept", found.kept / found.madeBefore, "", 1);
  tell("refit resumed", found.resumeSeconds, "s");
}
