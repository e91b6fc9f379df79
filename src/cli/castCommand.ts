import { type Command, UsageError } from "./command";

/** `anadem cast CAST` */
export const castCommand: Command = {
  name: "cast",
  operand: "CAST",
  operands: "at most one",
  summary: "plans the printing of a whole cast",
  options: {},
  run: async () => {
    throw new UsageError("not there yet");
  },
};
