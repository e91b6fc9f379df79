/** What the pointer asks for. Lengths are shares of the picture's height, places are from its middle, right and up. */
export interface PointerWishes {
  /** Degrees, as the camera moves. */
  orbit(right: number, up: number): void;
  pan(right: number, up: number): void;
  zoom(factor: number, x: number, y: number): void;
  /** CSS pixels in the view; undefined: the pointer left. */
  point(place: { readonly x: number; readonly y: number } | undefined): void;
  pick(x: number, y: number): void;
}

/** Degrees for a drag over the whole height. */
const turnPerHeight = 200;

/** A press that moves less is a click, CSS pixels. */
const clickReach = 4;

/** Zoom of one pixel of scrolling, and of one pixel of a pinch on a touchpad, as powers of e. */
const zoomPerPixel = 0.0016;
const zoomPerPinch = 0.01;

interface Pressed {
  x: number;
  y: number;
}

/** Mouse, touchpad, pen and touch on the canvas. */
export class PointerControls {
  readonly #canvas: HTMLElement;
  readonly #wishes: PointerWishes;
  readonly #pressed = new Map<number, Pressed>();
  readonly #leave = new AbortController();
  #travelled = 0;
  #isPanning = false;

  /** @param area holds the canvas and what stands over it: there too the wheel zooms */
  constructor(canvas: HTMLElement, area: HTMLElement, wishes: PointerWishes) {
    this.#canvas = canvas;
    this.#wishes = wishes;
    const { signal } = this.#leave;
    canvas.addEventListener("pointerdown", (event) => this.#down(event), { signal });
    canvas.addEventListener("pointermove", (event) => this.#move(event), { signal });
    canvas.addEventListener("pointerup", (event) => this.#up(event, true), { signal });
    canvas.addEventListener("pointercancel", (event) => this.#up(event, false), { signal });
    canvas.addEventListener("pointerleave", () => wishes.point(undefined), { signal });
    area.addEventListener("wheel", (event) => this.#wheel(event), { signal, passive: false });
    // The right button pans.
    canvas.addEventListener("contextmenu", (event) => event.preventDefault(), { signal });
  }

  dispose(): void {
    this.#leave.abort();
  }

  #down(event: PointerEvent): void {
    // The middle button would start the browser's own scrolling.
    if (event.button === 1) event.preventDefault();
    this.#canvas.setPointerCapture(event.pointerId);
    if (this.#pressed.size === 0) {
      this.#travelled = 0;
      this.#isPanning = event.button === 1 || event.button === 2 || event.shiftKey;
    } else {
      this.#travelled = Infinity;
    }
    this.#pressed.set(event.pointerId, { x: event.clientX, y: event.clientY });
    this.#canvas.classList.add("is-dragged");
    this.#wishes.point(undefined);
  }

  #move(event: PointerEvent): void {
    const last = this.#pressed.get(event.pointerId);
    if (!last) {
      if (event.buttons === 0 && event.pointerType !== "touch") this.#wishes.point(this.#inView(event));
      return;
    }
    const before = this.#spread();
    const [dx, dy] = [event.clientX - last.x, event.clientY - last.y];
    this.#travelled += Math.hypot(dx, dy);
    last.x = event.clientX;
    last.y = event.clientY;
    if (this.#travelled < clickReach) return;
    const { height } = this.#size();
    if (this.#pressed.size > 1) {
      this.#pinch(before, this.#spread());
    } else if (this.#isPanning || event.shiftKey) {
      this.#wishes.pan(-dx / height, dy / height);
    } else {
      this.#wishes.orbit((-dx / height) * turnPerHeight, (dy / height) * turnPerHeight);
    }
  }

  #up(event: PointerEvent, isDone: boolean): void {
    if (!this.#pressed.delete(event.pointerId)) return;
    if (this.#pressed.size > 0) return;
    this.#canvas.classList.remove("is-dragged");
    if (isDone && this.#travelled < clickReach && event.button === 0 && !this.#isPanning) {
      const { x, y } = this.#inView(event);
      this.#wishes.pick(x, y);
    }
  }

  #wheel(event: WheelEvent): void {
    event.preventDefault();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    const pages = event.deltaMode === WheelEvent.DOM_DELTA_PAGE ? this.#size().height : 1;
    const pixels = Math.max(-240, Math.min(240, event.deltaY * lines * pages));
    const { x, y } = this.#fromMiddle(event);
    // A pinch on a touchpad comes as a wheel with the control key, in small steps.
    this.#wishes.zoom(
      Math.exp(-pixels * (event.ctrlKey && Math.abs(pixels) < 50 ? zoomPerPinch : zoomPerPixel)),
      x,
      y,
    );
  }

  /** Middle and width of what two fingers span. */
  #spread(): { readonly x: number; readonly y: number; readonly width: number } {
    const [a, b] = [...this.#pressed.values()];
    if (!b) return { x: a.x, y: a.y, width: 1 };
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, width: Math.max(8, Math.hypot(a.x - b.x, a.y - b.y)) };
  }

  #pinch(
    before: { readonly x: number; readonly y: number; readonly width: number },
    after: { readonly x: number; readonly y: number; readonly width: number },
  ): void {
    const { height } = this.#size();
    const { x, y } = this.#fromMiddle({ clientX: after.x, clientY: after.y });
    this.#wishes.pan((before.x - after.x) / height, (after.y - before.y) / height);
    this.#wishes.zoom(after.width / before.width, x, y);
  }

  #inView(event: { readonly clientX: number; readonly clientY: number }): { x: number; y: number } {
    const { left, top } = this.#size();
    return { x: event.clientX - left, y: event.clientY - top };
  }

  #fromMiddle(event: { readonly clientX: number; readonly clientY: number }): { x: number; y: number } {
    const { left, top, width, height } = this.#size();
    return {
      x: (event.clientX - left - width / 2) / height,
      y: (top + height / 2 - event.clientY) / height,
    };
  }

  #size(): DOMRect {
    return this.#canvas.getBoundingClientRect();
  }
}
