/** `npm run package`: the extension as one file that VS Code installs, checked, into `dist/`. */
import { readFileSync, rmSync } from "node:fs";
import { homedir } from "node:os";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { dist, manifest } from "./bundle.mjs";
import { root } from "./setup.mjs";
import { stageExtension } from "./stage.mjs";
import { zipEntries } from "./zipEntries.mjs";

/** Bytes that the packaged extension may have. */
export const sizeBudget = 6_400_000;

/** @typedef {{ path: string, packed: number, bytes: Buffer }} Entry */

/**
 * Packages the extension. Rejects when the package holds what must not ship.
 * @param {{ file?: string, say?: (text: string) => void }} options `file`: where it goes
 * @returns {Promise<string>} the package
 */
export async function packageExtension({ file, say = () => {} } = {}) {
  const target = file ?? join(dist, `${manifest().name}-${manifest().version}.vsix`);
  const folder = await stageExtension({ folder: join(dist, "package"), maps: false, say });
  say("Packaging…");
  const { createVSIX } = await import("@vscode/vsce");
  rmSync(target, { force: true });
  await createVSIX({
    cwd: folder,
    packagePath: target,
    allowMissingRepository: true,
    // The pictures are in the text, and it names no other file.
    rewriteRelativeLinks: false,
  });
  const { entries, size } = readPackage(target);
  const faults = faultsOf(entries, size);
  if (faults.length > 0) throw new Error(`this package must not ship:\n${faults.join("\n")}`);
  return target;
}

/** What a package holds, and its size in bytes. @returns {{ entries: Entry[], size: number }} */
export function readPackage(file) {
  const zip = readFileSync(file);
  return { entries: zipEntries(zip), size: zip.length };
}

/**
 * What a package must not hold, each as one sentence.
 * @param {readonly Entry[]} entries
 * @param {number} size of the whole, bytes
 */
export function faultsOf(entries, size) {
  const faults = entries.flatMap((entry) =>
    forbidden.filter(({ found }) => found(entry)).map(({ what }) => `${entry.path} ${what}`),
  );
  if (size > sizeBudget)
    faults.push(`the package has ${megabytes(size)}; the budget is ${megabytes(sizeBudget)}`);
  return faults;
}

/** First bytes of programs for one kind of machine: ELF, Mach-O (both orders, and for several machines), PE. */
const nativeBeginnings = ["7f454c46", "feedface", "feedfacf", "cefaedfe", "cffaedfe", "cafebabe", "4d5a"];

const text = ({ bytes }) => bytes.toString("latin1");
const machinePaths = [root, homedir()].filter((path) => path.length > 5);

const forbidden = [
  {
    what: "is a native program",
    found: ({ path, bytes }) =>
      /\.(node|exe|dll|so|dylib)$/.test(path) ||
      nativeBeginnings.some((start) => bytes.subarray(0, start.length / 2).toString("hex") === start),
  },
  { what: "is a source map", found: ({ path }) => path.endsWith(".map") },
  {
    what: "names a source map, or holds one",
    found: (entry) => /\.[cm]?js$/.test(entry.path) && /^\/\/# sourceMappingURL=/m.test(text(entry)),
  },
  {
    what: "names a path of this machine",
    found: (entry) => machinePaths.some((path) => text(entry).includes(path)),
  },
  { what: "names a package registry", found: (entry) => /https?:\/\/registry\.[a-z]/.test(text(entry)) },
];

const megabytes = (bytes) => `${(bytes / 1e6).toFixed(2)} MB`;

async function main() {
  const file = await packageExtension({ say: console.error });
  const { entries, size } = readPackage(file);
  console.log("  unpacked     packed");
  for (const { path, packed, bytes } of entries.sort((a, b) => b.packed - a.packed)) {
    console.log(`${String(bytes.length).padStart(10)} ${String(packed).padStart(10)}  ${path}`);
  }
  console.log(`\n${relative(process.cwd(), file)}: ${entries.length} files, ${megabytes(size)}`);
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  await main().catch(({ message }) => {
    console.error(`error: ${message}`);
    process.exit(1);
  });
