import { describe, expect, test } from "vitest";
import { previewPage } from "../../../src/preview/previewPage";

const parts = {
  nonce: "Zm9vYmFy",
  cspSource: "'self' https://*.vscode-cdn.net",
  script: "https://file.vscode-cdn.net/x/preview.js?a=1&b=2",
  style: "https://file.vscode-cdn.net/x/preview.css",
  language: "en",
};
const page = previewPage(parts);
const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? "";

describe("the page", () => {
  test("lets nothing run but the script with the nonce, and nothing connect", () => {
    const directives = Object.fromEntries(
      policy.split("; ").map((one) => [one.split(" ")[0], one.slice(one.indexOf(" ") + 1)]),
    );
    expect(directives).toMatchObject({
      "default-src": "'none'",
      "script-src": "'nonce-Zm9vYmFy'",
      "style-src": "'self' https://*.vscode-cdn.net",
      "img-src": "'self' https://*.vscode-cdn.net blob: data:",
      "base-uri": "'none'",
    });
    expect(policy).not.toMatch(/unsafe|\*[ ;]|connect-src|worker-src|wasm/);
  });

  test("has one script, with the nonce; no style and no handler within", () => {
    expect(page.match(/<script/g)).toHaveLength(1);
    expect(page).toContain(
      '<script nonce="Zm9vYmFy" src="https://file.vscode-cdn.net/x/preview.js?a=1&amp;b=2">',
    );
    expect(page).not.toMatch(/ style=|<style| on[a-z]+=/);
  });

  test("says its language and its title, and where to speak", () => {
    expect(page).toContain('<html lang="en">');
    expect(page).toMatch(/<title>[^<]+<\/title>/);
    expect(page).toMatch(/role="status" aria-live="polite"/);
  });

  test("what is put in stays in its attribute, and out of the policy", () => {
    expect(previewPage({ ...parts, language: '"><script>' })).not.toContain("<script>");
    expect(() => previewPage({ ...parts, nonce: "x'; script-src *" })).toThrow(/content policy/);
  });
});
