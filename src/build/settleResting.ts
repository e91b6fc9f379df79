import type { DesignResult } from "../design/part";
import type { GrownHead } from "../head/grownHead";
import type { Message } from "../message";

export function settleResting(result: DesignResult, _head: GrownHead, _messages: Message[]): DesignResult {
  return result;
}
