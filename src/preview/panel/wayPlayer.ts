/** Time of the way on from the head's outside to the seat, ms. */
export const wayTime = 2000;

/** How the way on is being shown. */
export interface WayShown {
  readonly isOpen: boolean;
  readonly isPlaying: boolean;
  /** Share of the time of the way, 0 to 1: what the slider says. */
  readonly share: number;
}

/** What a player of the way needs of the world around it. */
export interface WayStage {
  /** Puts the piece on its way, 0 off the head to 1 at its seat; undefined: it just sits. */
  show(share: number | undefined): void;
  /** What is shown changed. */
  changed(shown: WayShown): void;
  /** Motion is to be reduced: the slider alone moves the piece. */
  isStill(): boolean;
  now(): number;
  request(callback: () => void): number;
  cancel(handle: number): void;
}

/** Slow at both ends. */
export const eased = (share: number): number => share * share * (3 - 2 * share);

/** Plays the way on: only when asked, to be stopped, taken up again and moved by hand. */
export class WayPlayer {
  readonly #stage: WayStage;
  #shown: WayShown = { isOpen: false, isPlaying: false, share: 1 };
  #frame = 0;
  /** When the way would have begun, had it never been stopped. */
  #since = 0;

  constructor(stage: WayStage) {
    this.#stage = stage;
  }

  get shown(): WayShown {
    return this.#shown;
  }

  /** Begins from off the head; where motion is to be reduced it stays there, for the slider. */
  playFromStart(): void {
    this.#stop();
    if (this.#stage.isStill()) this.#be({ isOpen: true, isPlaying: false, share: 0 });
    else this.#play(0);
  }

  /** Goes on, from the start where it had come to its seat; stops where it is going. */
  toggle(): void {
    if (this.#shown.isPlaying) {
      this.#stop();
      this.#be({ ...this.#shown, isPlaying: false });
    } else if (this.#shown.share >= 1) this.playFromStart();
    else if (!this.#stage.isStill()) this.#play(this.#shown.share);
  }

  /** Goes to a share of the time, and stands there. */
  scrub(share: number): void {
    this.#stop();
    this.#be({ isOpen: true, isPlaying: false, share: Math.min(1, Math.max(0, share)) });
  }

  /** The piece sits again, and nothing of the way is shown but its arrow. */
  close(): void {
    if (!this.#shown.isOpen) return;
    this.#stop();
    this.#shown = { isOpen: false, isPlaying: false, share: 1 };
    this.#stage.show(undefined);
    this.#stage.changed(this.#shown);
  }

  #play(from: number): void {
    this.#since = this.#stage.now() - from * wayTime;
    this.#be({ isOpen: true, isPlaying: true, share: from });
    this.#frame = this.#stage.request(() => this.#step());
  }

  #step(): void {
    const share = Math.min(1, Math.max(0, (this.#stage.now() - this.#since) / wayTime));
    if (share < 1) this.#frame = this.#stage.request(() => this.#step());
    this.#be({ isOpen: true, isPlaying: share < 1, share });
  }

  #be(shown: WayShown): void {
    this.#shown = shown;
    this.#stage.show(eased(shown.share));
    this.#stage.changed(shown);
  }

  #stop(): void {
    this.#stage.cancel(this.#frame);
  }
}
