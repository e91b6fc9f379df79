import { type Command, UsageError } from "./command";

/** `anadem compare DESIGN` */
export const compareCommand: Command = {
  name: "compare",
  operand: "DESIGN",
  summary: "compares a design with its version in a commit",
  options: {},
  run: async () => {
    throw new UsageError("not there yet");
  },
};
