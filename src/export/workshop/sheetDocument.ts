import { Markup, markup } from "./markup";

/** What a printed sheet is, around its body. */
export interface SheetFrame {
  readonly title: string;
  /** CSS */
  readonly style: string;
  /** Whether it holds pictures, as data. */
  readonly hasPictures?: boolean;
}

/** A sheet as one HTML document that is well-formed XML too: its style inside, no script, nothing from outside. */
export function sheetDocument(body: Markup, { title, style, hasPictures }: SheetFrame): string {
  const policy = [
    "default-src 'none'",
    ...(hasPictures ? ["img-src data:"] : []),
    "style-src 'unsafe-inline'",
  ];
  return markup`<!DOCTYPE html>
<html xmlns="http://www.w3.org/1999/xhtml" lang="en">
<head>
<meta charset="utf-8"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
<meta http-equiv="Content-Security-Policy" content="${new Markup(policy.join("; "))}"/>
<title>${title}</title>
<style>${new Markup(style)}</style>
</head>
<body>
${body}
</body>
</html>
`.text;
}
