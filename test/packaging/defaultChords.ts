/**
 * Chords of VS Code itself that begin with ctrl+k and end with a plain letter, on any system: read from the
 * workbench of VS Code 1.139, and, for those that only a desktop has (p, r, o), from the default keyboard shortcuts
 * listed at https://code.visualstudio.com/docs/reference/default-keybindings. `ctrl+k v` is Markdown's, for Markdown
 * files only, and means the same there: the preview beside the text.
 */
export const defaultChords = [..."cdefimnoprstuwyz"].map((letter) => `ctrl+k ${letter}`);
