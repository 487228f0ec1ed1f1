// Who may import whom. One table; a room that is not in it fails.
const rooms = {
  model: [],
  math: [],
  raster: ["math"],
  codec: ["model", "raster"],
  plate: ["model", "math", "raster"],
  elution: ["model", "math"],
  planning: ["model", "math"],
  decisions: ["model"],
  store: ["model"],
  pipeline: ["model", "codec", "raster", "plate", "elution", "decisions"],
  render: ["model", "math", "raster", "codec"],
  report: ["model", "math"],
  review: ["model", "decisions", "pipeline", "planning", "report", "store"],
  cli: ["model", "pipeline", "planning", "report", "store", "render", "review", "codec"],
};

const nodeRooms = "^src/(store|codec|cli|review/server)/";

const mayImport = Object.entries(rooms).map(([room, allowed]) => ({
  name: `room-${room}`,
  comment: `src/${room} may import only itself and: ${allowed.join(", ") || "nothing"} (see DEVELOPERS.md, "Rooms").`,
  severity: "error",
  from: { path: `^src/${room}/` },
  to: { path: "^src/", pathNot: `^src/(${[room, ...allowed].join("|")})/` },
}));

const stages = {
  plate: ["locate", "rectify", "density", "marks", "migration", "lanes", "spots", "quality", "light", "upright", "register", "together"],
  elution: ["components", "profiles", "pools", "advice"],
};
const stageRules = Object.entries(stages).flatMap(([room, names]) =>
  names.map((stage) => ({
    name: `stage-${room}-${stage}`,
    comment: "Stages never import each other; they meet in the room's index or in pipeline.",
    severity: "error",
    from: { path: `^src/${room}/${stage}/` },
    to: { path: `^src/${room}/(${names.filter((n) => n !== stage).join("|")})/` },
  })),
);

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [
    ...mayImport,
    ...stageRules,
    {
      name: "room-unknown",
      comment: "Every folder of src is a room of the table in .dependency-cruiser.mjs.",
      severity: "error",
      from: { path: "^src/", pathNot: `^src/(${Object.keys(rooms).join("|")})/` },
      to: {},
    },
    {
      name: "render-never-sees-reader",
      comment: "The renderer judges the reader: it must not reach it, not even through others.",
      severity: "error",
      from: { path: "^src/render/" },
      to: { path: "^src/(plate|elution|pipeline)/", reachable: true },
    },
    {
      name: "node-at-the-edge",
      comment: "Node's modules only in store, codec, cli and review/server: the core is pure.",
      severity: "error",
      from: { path: "^src/", pathNot: nodeRooms },
      to: { dependencyTypes: ["core"], pathNot: "^(node:)?module$" },
    },
    {
      name: "page-sees-little",
      comment: "The page runs in a browser: it imports only api.ts, nouns, the fold of decisions and what it judges and draws as pipeline and report do.",
      severity: "error",
      from: { path: "^src/review/page/" },
      to: { path: "^src/", pathNot: "^src/(review/(api\\.ts$|page/)|model/|decisions/|pipeline/judgePool\\.ts$|report/(drawing|annotation|sections/cautions|markup|words))" },
    },
    {
      name: "opencv-one-door",
      comment: "opencv-wasm is loaded in raster alone, where every Mat is freed.",
      severity: "error",
      from: { path: "^src/", pathNot: "^src/raster/" },
      to: { path: "opencv-wasm" },
    },
    {
      name: "codecs-one-door",
      comment: "sharp, pngjs and heic-decode are loaded in codec alone.",
      severity: "error",
      from: { path: "^src/", pathNot: "^src/codec/" },
      to: { path: "node_modules/(sharp|pngjs|heic-decode)/" },
    },
    { name: "no-cycles", comment: "No cycles.", severity: "error", from: {}, to: { circular: true } },
    {
      name: "no-orphans",
      comment: "A file nobody imports is dead code.",
      severity: "error",
      from: { orphan: true, path: "^src/", pathNot: ["^src/cli/main\\.ts$", "^src/review/page/main\\.tsx$", "\\.d\\.ts$"] },
      to: {},
    },
    {
      name: "src-never-imports-tests",
      comment: "The product does not know its tests.",
      severity: "error",
      from: { path: "^src/" },
      to: { path: "^tests/" },
    },
    {
      name: "no-unlisted-package",
      comment: "What src needs stands in package.json's dependencies.",
      severity: "error",
      from: { path: "^src/" },
      to: { dependencyTypes: ["npm-no-pkg", "npm-unknown", "npm-dev", "unknown"] },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "require", "node", "default"], extensions: [".ts", ".tsx", ".js", ".mjs", ".cjs"] },
  },
};
