import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { dist, ensureBundled, fingerprint, manifest } from "./bundle.mjs";
import { bundleExtension, typescriptPlugin } from "./bundleExtension.mjs";
import { noticesOf } from "./notices.mjs";
import { ensurePackages, root } from "./setup.mjs";

/** Where the extension is put together for a run from the clone. */
export const staged = join(dist, "extension");

/** What the command line has too, and the extension runs or reads. */
const shared = ["anadem.mjs", "evaluator.cjs", "manifold.wasm", "anadem.d.ts", "modeling.d.ts", "schemas"];

/** Packages that are part of the command line's programs; esbuild stands beside them with its own licence. */
const sharedPackages = () =>
  Object.keys(manifest().dependencies)
    .filter((name) => name !== "esbuild")
    .map((name) => `node_modules/${name}`);

/** What `wasmBundler` takes of esbuild's package for every platform. */
const compilerFiles = ["package.json", "LICENSE.md", "lib/browser.min.js", "esbuild.wasm"];

const compiler = join(root, "node_modules", "esbuild-wasm");
const compilerManifest = () => JSON.parse(readFileSync(join(compiler, "package.json"), "utf8"));

/** Keys of package.json that VS Code and its gallery read. */
const manifestKeys =
  `name displayName description version publisher license icon galleryBanner categories keywords
  pricing engines main activationEvents extensionKind capabilities contributes`.split(/\s+/);

/**
 * Puts the extension together as VS Code loads it, unless it stands there and nothing changed.
 * @param {{ folder?: string, maps?: boolean, say?: (text: string) => void }} options `maps`: with source maps, for
 *   debugging; without them the preview is minified
 * @returns {Promise<string>} its folder
 */
export async function stageExtension({ folder = staged, maps = true, say = () => {} } = {}) {
  ensurePackages(say);
  await ensureBundled(say);
  const wanted = stageFingerprint(maps);
  const stamp = join(dirname(folder), `.staged-${folder.split(/[\\/]/).at(-1)}`);
  if (existsSync(folder) && existsSync(stamp) && readFileSync(stamp, "utf8") === wanted) return folder;
  say("Putting the extension together…");
  // Made beside and swapped, so that nobody finds half of it.
  const fresh = `${folder}.${process.pid}.tmp`;
  rmSync(fresh, { recursive: true, force: true });
  await assemble(fresh, maps);
  rmSync(folder, { recursive: true, force: true });
  renameSync(fresh, folder);
  writeFileSync(stamp, wanted);
  return folder;
}

async function assemble(folder, maps) {
  mkdirSync(join(folder, "dist"), { recursive: true });
  for (const name of ["CHANGELOG.md", "LICENSE"]) cpSync(join(root, name), join(folder, name));
  writeFileSync(join(folder, "README.md"), withPicturesInside(readFileSync(join(root, "README.md"), "utf8")));
  for (const name of shared) {
    cpSync(join(dist, name), join(folder, "dist", name), { recursive: true });
  }
  if (!maps) dropMapAddress(join(folder, "dist", "anadem.mjs"), join(folder, "dist", "evaluator.cjs"));
  copyFolder("media", join(folder, "media"), (name) => !/\.source\.|[\\/]pictures$/.test(name));
  copyFolder(join("src", "extension", "snippets"), join(folder, "dist", "snippets"));
  copyCompiler(join(folder, "node_modules", "esbuild-wasm"));
  const packages = await bundleExtension(folder, { maps });
  writePluginManifest(join(folder, "node_modules", typescriptPlugin));
  writeFileSync(
    join(folder, "NOTICES.txt"),
    noticesOf([...new Set([...packages, ...sharedPackages()])].sort()),
  );
  writeFileSync(join(folder, "package.json"), `${JSON.stringify(stagedManifest(), undefined, 2)}\n`);
}

/** What VS Code needs of package.json: no scripts, and of the packages only those that are staged. */
function stagedManifest() {
  const whole = manifest();
  const kept = manifestKeys.filter((key) => key in whole).map((key) => [key, whole[key]]);
  return {
    ...Object.fromEntries(kept),
    engines: { vscode: whole.engines.vscode },
    // Packaging leaves out node_modules unless they are named both as dependencies and as files.
    dependencies: {
      [typescriptPlugin]: whole.version,
      "esbuild-wasm": compilerManifest().version,
    },
    files: ["CHANGELOG.md", "LICENSE", "NOTICES.txt", "README.md", "dist", "media", "node_modules"],
  };
}

function writePluginManifest(folder) {
  const { version, license } = manifest();
  const text = JSON.stringify({ name: typescriptPlugin, version, license, main: "index.js" }, undefined, 2);
  writeFileSync(join(folder, "package.json"), `${text}\n`);
}

function copyCompiler(folder) {
  for (const file of compilerFiles) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    cpSync(join(compiler, file), join(folder, file));
  }
}

/** An editor shows the text of an extension alone, without the files beside it: its pictures go into it. */
const withPicturesInside = (markdown) =>
  markdown.replace(/!\[([^\]]*)\]\((media\/[^)]+\.png)\)/g, (_, alt, path) => {
    const data = readFileSync(join(root, path)).toString("base64");
    return `![${alt}](data:image/png;base64,${data})`;
  });

const copyFolder = (from, to, keep = () => true) =>
  cpSync(join(root, from), to, { recursive: true, filter: keep });

/** The packaged programs come without source maps. */
function dropMapAddress(...files) {
  for (const file of files) {
    writeFileSync(file, readFileSync(file, "utf8").replace(/\n\/\/# sourceMappingURL=.*\n?$/, "\n"));
  }
}

function stageFingerprint(maps) {
  const hash = createHash("sha256").update(fingerprint()).update(String(maps));
  const media = readdirSync(join(root, "media"), { recursive: true, encoding: "utf8" }).sort();
  for (const name of ["README.md", "CHANGELOG.md", "LICENSE", ...media.map((path) => join("media", path))]) {
    if (statSync(join(root, name)).isFile()) hash.update(name).update(readFileSync(join(root, name)));
  }
  return hash.digest("hex");
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  console.log(await stageExtension({ say: console.error }));
