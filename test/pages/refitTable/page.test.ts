import { expect, test } from "vitest";
import { refitTablePage } from "../../../src/pages/refitTable/page";
import { sources } from "../../packaging/sources";

const parts = {
  nonce: "Zm9vYmFy",
  cspSource: "'self' https://*.vscode-cdn.net",
  script: "https://file.vscode-cdn.net/x/refitTable.js?a=1&b=2",
  style: "https://file.vscode-cdn.net/x/refitTable.css",
  language: "en",
};
const page = refitTablePage(parts);
const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? "";

test("lets nothing run but the script with the nonce, nothing load but its pictures, and nothing connect", () => {
  const directives = Object.fromEntries(
    policy.split("; ").map((one) => [one.split(" ")[0], one.slice(one.indexOf(" ") + 1)]),
  );
  expect(directives).toEqual({
    "default-src": "'none'",
    "script-src": "'nonce-Zm9vYmFy'",
    "style-src": "'self' https://*.vscode-cdn.net",
    "img-src": "blob:",
    "base-uri": "'none'",
    "form-action": "'none'",
  });
});

test("has one script, with the nonce; no style and no handler within", () => {
  expect(page.match(/<script/g)).toHaveLength(1);
  expect(page).toContain(
    '<script nonce="Zm9vYmFy" src="https://file.vscode-cdn.net/x/refitTable.js?a=1&amp;b=2">',
  );
  expect(page).not.toMatch(/ style=|<style| on[a-z]+=/);
  expect(page).toMatch(/role="status" aria-live="polite"/);
});

test("what is put in stays in its attribute, and out of the policy", () => {
  expect(refitTablePage({ ...parts, language: '"><script>' })).not.toContain("<script>");
  expect(() => refitTablePage({ ...parts, nonce: "x'; script-src *" })).toThrow(/content policy/);
});

test("its style has the theme's colours and no other", () => {
  const styles = sources("src/pages/refitTable", ".css").join("\n");
  expect(styles).toContain("var(--vscode-foreground)");
  expect(styles).not.toMatch(/#[0-9a-f]{3,8}\b(?! \{)|\brgb|\bhsl/i);
});
