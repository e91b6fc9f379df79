import { MessageError } from "../message";

/** An error about the data of a tube: what is wrong, with the value, and what would be right. */
export function refusal(id: string, text: string, suggestion: string): MessageError {
  return new MessageError([{ id, severity: "error", text, suggestion }]);
}
