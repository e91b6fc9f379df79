/** What the page of a webview is made from. */
export interface WebviewPageParts {
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

/** What a page of ours has of its own. */
export interface WebviewPageContent {
  readonly title: string;
  /** Id of the element that the script fills. */
  readonly root: string;
  /** Further directives of its content policy; `source` stands for the extension's own files. */
  readonly policy?: (source: string) => readonly string[];
  /** It has no use for the editor's cut, copy and paste menu. */
  readonly hasOwnMenus?: boolean;
}

/**
 * A webview's HTML. It is set once: all that changes later comes as messages. Nothing but the bundled script may run,
 * nothing but the bundled style sheet and what the page's own policy names may load, and nothing may connect.
 */
export function webviewPage(parts: WebviewPageParts, content: WebviewPageContent): string {
  const source = policyWord(parts.cspSource);
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${policyWord(parts.nonce)}'`,
    `style-src ${source}`,
    ...(content.policy?.(source) ?? []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  const context = content.hasOwnMenus
    ? ` data-vscode-context="${attribute('{"preventDefaultContextMenuItems":true}')}"`
    : "";
  return `<!DOCTYPE html>
<html lang="${attribute(parts.language)}">
<head>
<meta charset="UTF-8">
<meta http-equiv="Content-Security-Policy" content="${attribute(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${content.title}</title>
<link rel="stylesheet" href="${attribute(parts.style)}">
</head>
<body${context}>
<div id="${content.root}"></div>
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
