import { Color, ColorManagement, LinearSRGBColorSpace, WebGLRenderer } from "three";
import { FineTarget } from "./fineTarget";

// The shaders mix light themselves and write what the screen shows.
ColorManagement.enabled = false;

/** More dots than this per CSS pixel cost more than they show. */
const mostRatio = 2;

export interface ContextEvents {
  /** The canvas has another size: draw anew, now. */
  onResize(): void;
  onLost(): void;
  onRestored(): void;
}

/** The canvas and its graphics context, as large as its host and as fine as the screen. */
export class Context {
  readonly canvas: HTMLCanvasElement;
  readonly renderer: WebGLRenderer;
  /** CSS pixels. */
  width = 1;
  height = 1;
  /** Dots per CSS pixel. */
  ratio = 1;
  isLost = false;
  /** A picture with smooth edges takes too long to be drawn while things move. */
  isSlow: boolean;
  readonly #fine: FineTarget;
  readonly #observer: ResizeObserver;
  readonly #leave = new AbortController();

  /** Throws an Error where there is no WebGL 2. */
  constructor(host: HTMLElement, events: ContextEvents) {
    this.canvas = host.ownerDocument.createElement("canvas");
    this.canvas.className = "scene-canvas";
    this.canvas.setAttribute("aria-hidden", "true");
    const context = this.canvas.getContext("webgl2", {
      alpha: true,
      // Drawn with several samples a dot into a target of our own where that is quick enough.
      antialias: false,
      depth: true,
      stencil: true,
      powerPreference: "high-performance",
    });
    if (!context) throw new Error("this view needs WebGL 2, which is not available here");
    this.renderer = new WebGLRenderer({ canvas: this.canvas, context });
    this.renderer.autoClear = false;
    // The passes come in their order; sorting would measure every surface first.
    this.renderer.sortObjects = false;
    this.renderer.info.autoReset = false;
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    this.renderer.debug.checkShaderErrors = false;
    this.#fine = new FineTarget(this.renderer);
    this.isSlow = isDrawnBySoftware(context);
    host.prepend(this.canvas);
    this.#measure(host.clientWidth, host.clientHeight);

    this.#observer = new ResizeObserver(([entry]) => {
      const { width, height } = entry.contentRect;
      if (this.#measure(width, height)) events.onResize();
    });
    this.#observer.observe(host);
    const { signal } = this.#leave;
    this.canvas.addEventListener(
      "webglcontextlost",
      (event) => {
        event.preventDefault();
        this.isLost = true;
        events.onLost();
      },
      { signal },
    );
    this.canvas.addEventListener(
      "webglcontextrestored",
      () => {
        this.isLost = false;
        this.#fine.forget();
        events.onRestored();
      },
      { signal },
    );
    this.#followRatio(() => {
      if (this.#measure(this.width, this.height)) events.onResize();
    });
  }

  get aspect(): number {
    return this.width / this.height;
  }

  setBackground(colour: readonly [number, number, number]): void {
    this.renderer.setClearColor(new Color(...colour), 1);
  }

  /** Draws, with smooth edges or quickly. */
  draw(isFine: boolean, paint: () => void): void {
    if (isFine) this.#fine.draw(this.canvas.width, this.canvas.height, paint);
    else paint();
  }

  /** Tells when the graphics processor has done what it was asked for so far. */
  async done(): Promise<void> {
    const gl = this.renderer.getContext() as WebGL2RenderingContext;
    const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    if (!fence) return;
    gl.flush();
    const end = performance.now() + 2000;
    while (performance.now() < end && !this.isLost) {
      const status = gl.clientWaitSync(fence, 0, 0);
      if (status !== gl.TIMEOUT_EXPIRED) break;
      await new Promise((resolve) => setTimeout(resolve, 0));
    }
    gl.deleteSync(fence);
  }

  dispose(): void {
    this.#leave.abort();
    this.#observer.disconnect();
    this.#fine.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
    this.canvas.remove();
  }

  #measure(width: number, height: number): boolean {
    const ratio = Math.min(
      mostRatio,
      Math.max(1, this.canvas.ownerDocument.defaultView?.devicePixelRatio ?? 1),
    );
    const [wide, high] = [Math.max(1, width), Math.max(1, height)];
    if (wide === this.width && high === this.height && ratio === this.ratio) return false;
    [this.width, this.height, this.ratio] = [wide, high, ratio];
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(wide, high, false);
    return true;
  }

  /** A window moved to another screen, or zoomed, has another ratio with the same size. */
  #followRatio(changed: () => void): void {
    const view = this.canvas.ownerDocument.defaultView;
    if (!view || this.#leave.signal.aborted) return;
    const query = view.matchMedia(`(resolution: ${view.devicePixelRatio}dppx)`);
    query.addEventListener(
      "change",
      () => {
        changed();
        this.#followRatio(changed);
      },
      { once: true, signal: this.#leave.signal },
    );
  }
}

/** Whether the processor draws, as in a machine without a graphics card. */
function isDrawnBySoftware(context: WebGL2RenderingContext): boolean {
  const info = context.getExtension("WEBGL_debug_renderer_info");
  const name = String(context.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : context.RENDERER));
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}
