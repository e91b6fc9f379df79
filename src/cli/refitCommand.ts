import { type Command, UsageError } from "./command";

/** `anadem refit DESIGN…` */
export const refitCommand: Command = {
  name: "refit",
  operand: "DESIGN…",
  operands: "several",
  summary: "fits designs to every wearer of a folder: one table",
  options: {},
  run: async () => {
    throw new UsageError("not there yet");
  },
};
