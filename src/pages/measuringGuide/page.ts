/** What the page of the measuring guide is made from. */
export interface GuidePageParts {
  /** Fresh for each page, unguessable. */
  readonly nonce: string;
  /** `webview.cspSource` */
  readonly cspSource: string;
  /** Address of the bundled script, as the webview sees it. */
  readonly script: string;
  /** Address of the bundled style sheet, as the webview sees it. */
  readonly style: string;
  /** Language of the words on screen, for example "en". */
  readonly language: string;
}

/**
 * The page's HTML. It is set once: all that changes later comes as messages. Nothing but the bundled script may run,
 * nothing but the bundled style sheet may load, and nothing may connect.
 */
export function guidePage(parts: GuidePageParts): string {
  const source = policyWord(parts.cspSource);
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${policyWord(parts.nonce)}'`,
    `style-src ${source}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return `<!DOCTYPE html>
<html lang="${attribute(parts.language)}">
<head>
<meta charset="UTF-8">
<meta http-equiv="Content-Security-Policy" content="${attribute(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Measuring guide</title>
<link rel="stylesheet" href="${attribute(parts.style)}">
</head>
<body>
<div id="guide"></div>
<div id="spoken" class="visually-hidden" role="status" aria-live="polite"></div>
<script nonce="${attribute(parts.nonce)}" src="${attribute(parts.script)}"></script>
</body>
</html>
`;
}

/** A word that cannot end its directive of the policy and start another. */
function policyWord(text: string): string {
  if (/[;,]/.test(text)) throw new Error(`not a source for a content policy: ${text}`);
  return text;
}

function attribute(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll('"', "&quot;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}
