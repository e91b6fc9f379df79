/** Imports flow one way (DEVELOPERS.md, "How the house is laid out"), and never in a circle. */
const below = {
  geometry: [],
  head: ["geometry"],
  design: ["geometry", "head"],
  checks: ["geometry", "head", "design"],
  print: ["geometry", "head", "design", "checks"],
  export: ["geometry", "head", "design", "checks", "print"],
  build: ["geometry", "head", "design", "checks", "print", "export"],
  cli: ["geometry", "head", "design", "checks", "print", "export", "build"],
  extension: ["geometry", "head", "design", "checks", "print", "export", "build", "preview", "pages"],
  preview: ["geometry", "design"],
  pages: ["preview"],
};

const directions = Object.entries(below).map(([folder, allowed]) => ({
  name: `${folder}-imports-only-what-lies-below`,
  severity: "error",
  from: { path: `^src/${folder}/` },
  to: { path: "^src/[^/]+/", pathNot: `^src/(${[folder, ...allowed].join("|")})/` },
}));

/** A package that only one folder may know. */
const only = (name, from, packages) => ({
  name,
  severity: "error",
  from: { path: "^src/", pathNot: from },
  to: { path: packages },
});

module.exports = {
  forbidden: [
    ...directions,
    {
      name: "no-circle",
      severity: "error",
      from: {},
      to: { circular: true },
    },
    only("solid-kernel-only-in-geometry-solid", "^src/geometry/solid/", "node_modules/manifold-3d"),
    only("vscode-only-in-extension", "^src/extension/", "^vscode$"),
    only("renderer-only-in-preview", "^src/preview/", "node_modules/three"),
    {
      name: "preview-sees-only-message-types",
      severity: "error",
      from: { path: "^src/preview/" },
      // How a mesh is packed is part of a message.
      to: {
        path: "^src/(design|geometry)/",
        pathNot: "^src/geometry/packedMesh\\.ts$",
        dependencyTypesNot: ["type-only"],
      },
    },
    {
      name: "extension-sees-only-the-messages-of-the-preview",
      severity: "error",
      from: { path: "^src/extension/" },
      to: { path: "^src/preview/", pathNot: "^src/preview/(protocol|protocolChecks|previewPage)\\.ts$" },
    },
    {
      name: "pages-share-only-the-ground-of-the-preview",
      severity: "error",
      from: { path: "^src/pages/" },
      to: {
        path: "^src/preview/",
        pathNot: "^src/preview/panel/(dom|editorSide|svgNodes|svgPicture|speech|styles/base)",
      },
    },
    {
      name: "extension-sees-only-the-messages-of-pages",
      severity: "error",
      from: { path: "^src/extension/" },
      to: { path: "^src/pages/", pathNot: "/(protocol|protocolChecks|page)\\.ts$" },
    },
    {
      name: "language-knows-no-solid-kernel",
      severity: "error",
      from: { path: "^src/(design|head)/" },
      to: { path: "^src/geometry/solid/" },
    },
    {
      name: "pure-folders-touch-no-files-and-no-processes",
      severity: "error",
      from: { path: "^src/(geometry|head|design|checks|print|export)/" },
      to: {
        dependencyTypes: ["core"],
        path: "^(node:)?(fs|child_process|worker_threads|net|http|https|os|path)",
      },
    },
    {
      name: "the-ground-imports-nothing",
      severity: "error",
      from: { path: "^src/[^/]+\\.ts$" },
      to: { path: "^src/[^/]+/" },
    },
    {
      name: "tests-stay-out-of-the-product",
      severity: "error",
      from: { path: "^src/" },
      to: { path: "^(test|samples)/" },
    },
    {
      name: "no-unresolved-import",
      severity: "error",
      from: {},
      to: { couldNotResolve: true, pathNot: "^vscode$" },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "require", "node", "default", "types"],
    },
  },
};
