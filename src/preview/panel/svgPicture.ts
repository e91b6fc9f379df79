/** Shows an SVG document as a picture of its own: as such it runs no script and loads nothing. */
export function svgPicture(image: HTMLImageElement): { show(svg: string | undefined): boolean } {
  let shown: string | undefined;
  let address: string | undefined;
  return {
    /** Tells whether it is another than before. */
    show(svg) {
      if (svg === shown) return false;
      shown = svg;
      if (address !== undefined) URL.revokeObjectURL(address);
      address =
        svg === undefined ? undefined : URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
      if (address === undefined) image.removeAttribute("src");
      else image.src = address;
      return true;
    },
  };
}
