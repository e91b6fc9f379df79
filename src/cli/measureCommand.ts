import { type Command, UsageError } from "./command";

/** `anadem measure WEARER` */
export const measureCommand: Command = {
  name: "measure",
  operand: "WEARER",
  operands: "at most one",
  summary: "makes a measuring sheet, or takes measures down",
  options: {},
  run: async () => {
    throw new UsageError("not there yet");
  },
};
