import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { placeFiles } from "../../src/build/placeFiles";

/** Writes a file into the folder given and stands still before it is put in place, to be interrupted. */
const folder = process.argv[2];
void placeFiles([{ path: join(folder, "a.stl"), content: "new a" }], {
  fileSystem: {
    mkdir: async () => {},
    isFolder: async () => false,
    rename: async () => {},
    remove: async () => {},
    write: async (path, content) => {
      writeFileSync(path, content);
      console.log("written");
      await new Promise((resolve) => setTimeout(resolve, 10_000));
    },
  },
});
