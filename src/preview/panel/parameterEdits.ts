import type { ParameterValue } from "../../design/part";
import type { DesignMessage } from "../protocol";
import { oncePerFrame } from "./frameThrottle";
import type { ParameterState, Values } from "./parameterValues";
import { differences, noParameters, reset, set, told } from "./parameterValues";

export interface EditEvents {
  /** The person changed values: the controls follow. */
  onChange(state: ParameterState): void;
  /** What differs from the file goes out. */
  onSend(values: Values): void;
}

/** The values of the controls as the person changes them; what differs from the file goes out, at most once a frame. */
export class ParameterEdits {
  #state: ParameterState = noParameters;
  readonly #events: EditEvents;
  readonly #send = oncePerFrame((state: ParameterState) => this.#events.onSend(differences(state)));

  constructor(events: EditEvents) {
    this.#events = events;
  }

  get state(): ParameterState {
    return this.#state;
  }

  /** Takes in what a message says about the design; `isOther` where it is about another than the last. */
  take(design: DesignMessage, isOther: boolean): void {
    this.#state = told(this.#state, design, isOther);
  }

  set(name: string, value: ParameterValue): void {
    this.#state = set(this.#state, name, value);
    this.#events.onChange(this.#state);
    this.#send.call(this.#state);
  }

  /** Goes back to what the file says, and sends nothing. */
  reset(): void {
    this.#send.drop();
    this.#state = reset(this.#state);
    this.#events.onChange(this.#state);
  }

  /** Sends at once what waits for the next frame. */
  flush(): void {
    this.#send.flush();
  }
}
