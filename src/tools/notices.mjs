import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./setup.mjs";

/**
 * The licences of packages that are part of a program, as one text.
 * @param {readonly string[]} packages their folders, relative to the project
 * @returns {string}
 */
export function noticesOf(packages) {
  const parts = packages.map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(join(root, folder, "package.json"), "utf8"));
    return `${"=".repeat(78)}\n${name} ${version} (${license})\n${"=".repeat(78)}\n\n${licenceText(folder)}\n`;
  });
  return `Anadem contains parts of these packages, under their own licences.\n\n${parts.join("\n")}`;
}

function licenceText(folder) {
  const name = readdirSync(join(root, folder)).find((file) => /^licen[cs]e/i.test(file));
  return name === undefined ? "" : readFileSync(join(root, folder, name), "utf8").trim();
}
