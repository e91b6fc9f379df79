import { buildHeadForm, HeadForm } from "./headForm";
import type { Wearer } from "./wearer";

/** The bare head form of a wearer: that of the scan where one was read, else that of the measurements. */
export const headFormOf = ({ measurements, scanned }: Pick<Wearer, "measurements" | "scanned">): HeadForm =>
  scanned ? new HeadForm({ measurements, surface: scanned.surface }) : buildHeadForm(measurements);
