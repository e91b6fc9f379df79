/**
 * The environment of a process of ours. Inside an editor the executable is the editor's own: this makes it behave as
 * Node, without the editor's options.
 */
export function engineEnvironment(): NodeJS.ProcessEnv {
  const own = Object.entries(process.env).filter(([name]) => !/^(?:NODE_|VSCODE_)/.test(name));
  return { ...Object.fromEntries(own), ELECTRON_RUN_AS_NODE: "1" };
}
