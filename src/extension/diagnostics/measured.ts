import type { Message } from "../../message";

/** Found of a finished piece, by the checks of fit and wear or by the plan of its print: the build itself went well. */
export const isMeasured = (message: Message): boolean => "check" in message || "topic" in message;
