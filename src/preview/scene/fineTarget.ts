import { type WebGLRenderer, WebGLRenderTarget } from "three";

/** What the renderer's types leave out. */
interface WithOwnFrames extends WebGLRenderer {
  setRenderTargetFramebuffer(target: WebGLRenderTarget, frame: WebGLFramebuffer): void;
}

/** Samples of each dot, at most. */
const mostSamples = 4;

/**
 * A target with several samples a dot, drawn in as many passes as wanted and then laid on the canvas. The canvas's own
 * smoothing could not be switched off for a picture that has to be quick.
 */
export class FineTarget {
  readonly #renderer: WebGLRenderer;
  readonly #gl: WebGL2RenderingContext;
  #target: WebGLRenderTarget | undefined;
  #frame: WebGLFramebuffer | null = null;
  #buffers: WebGLRenderbuffer[] = [];

  constructor(renderer: WebGLRenderer) {
    this.#renderer = renderer;
    this.#gl = renderer.getContext() as WebGL2RenderingContext;
  }

  draw(width: number, height: number, paint: () => void): void {
    const gl = this.#gl;
    if (this.#target?.width !== width || this.#target.height !== height) this.#make(width, height);
    this.#renderer.setRenderTarget(this.#target ?? null);
    paint();
    const { state } = this.#renderer;
    state.bindFramebuffer(gl.READ_FRAMEBUFFER, this.#frame);
    state.bindFramebuffer(gl.DRAW_FRAMEBUFFER, null);
    gl.blitFramebuffer(0, 0, width, height, 0, 0, width, height, gl.COLOR_BUFFER_BIT, gl.NEAREST);
    gl.invalidateFramebuffer(gl.READ_FRAMEBUFFER, [gl.COLOR_ATTACHMENT0, gl.DEPTH_STENCIL_ATTACHMENT]);
    state.bindFramebuffer(gl.READ_FRAMEBUFFER, null);
    this.#renderer.setRenderTarget(null);
  }

  /** The graphics context was lost, and with it the buffers. */
  forget(): void {
    this.#target?.dispose();
    this.#target = undefined;
    this.#frame = null;
    this.#buffers = [];
  }

  dispose(): void {
    this.#gl.deleteFramebuffer(this.#frame);
    for (const buffer of this.#buffers) this.#gl.deleteRenderbuffer(buffer);
    this.forget();
  }

  #make(width: number, height: number): void {
    this.dispose();
    const gl = this.#gl;
    const samples = Math.min(mostSamples, gl.getParameter(gl.MAX_SAMPLES) as number);
    const frame = gl.createFramebuffer();
    this.#renderer.state.bindFramebuffer(gl.FRAMEBUFFER, frame);
    const attach = (attachment: number, format: number) => {
      const buffer = gl.createRenderbuffer();
      gl.bindRenderbuffer(gl.RENDERBUFFER, buffer);
      gl.renderbufferStorageMultisample(gl.RENDERBUFFER, samples, format, width, height);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, attachment, gl.RENDERBUFFER, buffer);
      this.#buffers.push(buffer);
    };
    attach(gl.COLOR_ATTACHMENT0, gl.RGBA8);
    attach(gl.DEPTH_STENCIL_ATTACHMENT, gl.DEPTH24_STENCIL8);
    gl.bindRenderbuffer(gl.RENDERBUFFER, null);
    this.#frame = frame;
    this.#target = new WebGLRenderTarget(width, height);
    // The renderer draws into the target that is made here, and does not resolve it after each pass.
    (this.#renderer as WithOwnFrames).setRenderTargetFramebuffer(this.#target, frame);
  }
}
