import type { Browser, Locator } from "playwright-core";
import type { Colour } from "../../src/preview/scene/colour";

/** What a pixel shows, by its colour. */
export type Shown = "background" | "piece" | "head" | "other";

export interface PhotoColours {
  readonly background: Colour;
  readonly piece: Colour;
  readonly head: Colour;
}

/** Width of the frame at the picture's edge that shows where the keys go, px: no part of the picture. */
const frame = 4;

/** A photograph of the screen, pixel by pixel. */
export class Photo {
  /** @param shown what each pixel shows, row by row from the top */
  private constructor(
    readonly width: number,
    readonly height: number,
    readonly shown: readonly Shown[],
  ) {}

  /** Photographs what stands at an element's place. */
  static async of(element: Locator, browser: Browser, colours: PhotoColours): Promise<Photo> {
    return Photo.ofPng(await element.screenshot(), browser, colours);
  }

  /** A photograph from a file. The browser itself reads it. */
  static async ofPng(png: Buffer, browser: Browser, colours: PhotoColours): Promise<Photo> {
    const page = await browser.newPage();
    try {
      const { width, height, text } = await page.evaluate(
        async ([base64, frame]) => {
          const blob = await (await fetch(`data:image/png;base64,${base64}`)).blob();
          const bitmap = await createImageBitmap(blob);
          const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext("2d");
          const [width, height] = [bitmap.width - 2 * frame, bitmap.height - 2 * frame];
          if (!context) throw new Error("no canvas to read the picture with");
          context.drawImage(bitmap, 0, 0);
          const { data } = context.getImageData(frame, frame, width, height);
          let text = "";
          for (let i = 0; i < data.length; i += 8192)
            text += String.fromCharCode(...data.subarray(i, i + 8192));
          return { width, height, text: btoa(text) };
        },
        [png.toString("base64"), frame] as const,
      );
      const bytes = Buffer.from(text, "base64");
      const shown: Shown[] = [];
      for (let i = 0; i < bytes.length; i += 4) shown.push(shownBy(bytes.subarray(i, i + 3), colours));
      return new Photo(width, height, shown);
    } finally {
      await page.close();
    }
  }

  /** Share of all pixels that show it, 0 to 1. */
  share(what: Shown): number {
    return this.places(what).length / this.shown.length;
  }

  /** The middle of all pixels that show it: shares of width and height from the upper left corner. */
  middle(what: Shown): { readonly x: number; readonly y: number } {
    const places = this.places(what);
    const sum = places.reduce(
      (all, i) => ({ x: all.x + (i % this.width), y: all.y + Math.floor(i / this.width) }),
      {
        x: 0,
        y: 0,
      },
    );
    return { x: sum.x / places.length / this.width, y: sum.y / places.length / this.height };
  }

  /** The top of what is shown, a share of the height: 2 % of its pixels are above. Single pixels do not count. */
  top(what: Shown): number {
    const places = this.places(what);
    return Math.floor(places[Math.floor(places.length / 50)] / this.width) / this.height;
  }

  /** A place well inside what is shown, px in the element: the middle of a square of that side that shows nothing else. */
  inside(what: Shown, side: number): { readonly x: number; readonly y: number } {
    const half = Math.floor(side / 2);
    for (let y = half; y < this.height - half; y++) {
      for (let x = half; x < this.width - half; x++) {
        if (this.squareShows(what, x, y, half)) return { x: x + frame, y: y + frame };
      }
    }
    throw new Error(`no square of ${side} px shows only ${what}`);
  }

  private squareShows(what: Shown, x: number, y: number, half: number): boolean {
    for (let row = y - half; row <= y + half; row++)
      for (let column = x - half; column <= x + half; column++)
        if (this.shown[row * this.width + column] !== what) return false;
    return true;
  }

  /** What the square of that side at each corner shows, where all of it shows the same; else `mixed`. */
  corners(side: number): readonly (Shown | "mixed")[] {
    const right = this.width - side;
    const bottom = this.height - side;
    return [
      [0, 0],
      [right, 0],
      [0, bottom],
      [right, bottom],
    ].map(([x, y]) => {
      const first = this.shown[y * this.width + x];
      for (let row = y; row < y + side; row++)
        for (let column = x; column < x + side; column++)
          if (this.shown[row * this.width + column] !== first) return "mixed";
      return first;
    });
  }

  /** How alike the outlines of two photographs are: pixels that both show something, to those that either does. */
  likeness(other: Photo): number {
    if (other.width !== this.width || other.height !== this.height) return 0;
    let both = 0;
    let either = 0;
    for (let i = 0; i < this.shown.length; i++) {
      const here = this.shown[i] !== "background";
      const there = other.shown[i] !== "background";
      if (here && there) both++;
      if (here || there) either++;
    }
    return both / either;
  }

  private places(what: Shown): number[] {
    return this.shown.flatMap((shown, i) => (shown === what ? [i] : []));
  }
}

/** Light and shade change how bright a colour is, and its hue hardly: the nearest by the shares of red, green, blue. */
function shownBy(pixel: Uint8Array, { background, piece, head }: PhotoColours): Shown {
  const colour = [pixel[0] / 255, pixel[1] / 255, pixel[2] / 255] as const;
  if (Math.max(...colour.map((value, i) => Math.abs(value - background[i]))) < 0.03) return "background";
  const toPiece = distance(shares(colour), shares(piece));
  const toHead = distance(shares(colour), shares(head));
  if (Math.min(toPiece, toHead) > 0.09) return "other";
  return toPiece < toHead ? "piece" : "head";
}

function shares(colour: Colour): Colour {
  const sum = colour[0] + colour[1] + colour[2] + 1e-6;
  return [colour[0] / sum, colour[1] / sum, colour[2] / sum];
}

const distance = (a: Colour, b: Colour): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
