import { readFileSync } from "node:fs";
import { Evaluator } from "../../src/build/evaluator";

/** An engine to be killed: runs the design of a job file, and tells the ids of its processes when `make` begins. */
const { design, entry } = JSON.parse(readFileSync(process.argv[2], "utf8"));
const evaluator = new Evaluator({ entry });
void evaluator.evaluate({
  ...design,
  provideInput: async () => {
    await evaluator.warm();
    setTimeout(() => console.log(JSON.stringify(evaluator.processIds)), 200);
    return { head: null, values: {} };
  },
});
