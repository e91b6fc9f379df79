/** `npm run anadem -- …`: the command line from a clone, installed and built where that is due. */

import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { dist, ensureBundled } from "./bundle.mjs";
import { ensurePackages } from "./setup.mjs";

const say = (text) => process.stderr.isTTY && console.error(text);
ensurePackages(say);
await ensureBundled(say);
// npm runs scripts in the project's folder; paths are meant from where the person stands.
if (process.env.INIT_CWD) process.chdir(process.env.INIT_CWD);
await import(pathToFileURL(join(dist, "anadem.mjs")).href);
