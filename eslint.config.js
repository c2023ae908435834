// The one rule, as a table: what each room may import and which globals it may know.
// ESLint's own rules enforce it; TypeScript project references and `types: []` back it up.
import jsdoc from "eslint-plugin-jsdoc";
import { builtinModules } from "node:module";
import { basename, dirname } from "node:path";
import tseslint from "typescript-eslint";

const nodeModules = [...builtinModules, "node:*"];
const host = ["Excel", "Office", "CustomFunctions"];
const page = ["window", "document", "navigator", "location", "localStorage", "fetch"];
const process = ["process", "Buffer", "require", "__dirname", "setImmediate"];
const timers = ["setTimeout", "setInterval"];

/** One row a room: files, the rooms and packages it may import, the globals it must not know, and why. */
const rooms = [
  {
    files: ["src/core/**/*.ts"],
    refuse: ["**/book/**", "**/xlsx/**", "**/cli/**", "**/functions/**", "**/taskpane/**"],
    packages: ["@stdlib/*"],
    globals: [...host, ...page, ...process, ...timers, "console", "performance"],
    clock: true,
    why: "core is arithmetic: same input, same answer; no clock, file, screen or chance",
  },
  {
    files: ["src/book/**/*.ts"],
    refuse: ["**/xlsx/**", "**/cli/**", "**/functions/**", "**/taskpane/**"],
    packages: [],
    globals: [...host, ...page, ...process, ...timers, "console", "performance"],
    clock: true,
    why: "book turns a snapshot into records and a plan; it knows no host and no file",
  },
  {
    files: ["src/xlsx/**/*.ts"],
    refuse: ["**/cli/**", "**/functions/**", "**/taskpane/**"],
    packages: ["fflate"],
    globals: [...host, ...page, ...process, ...timers, "console", "performance"],
    clock: true,
    why: "xlsx knows bytes, not the machine they lie on",
  },
  {
    files: ["src/cli/**/*.ts"],
    refuse: ["**/taskpane/**"],
    packages: ["node:*", "zod"],
    globals: [...host, ...page],
    why: "the command line has no screen",
  },
  {
    files: ["functions/**/*.ts"],
    refuse: ["**/book/**", "**/xlsx/**", "**/cli/**", "**/taskpane/**"],
    packages: [],
    globals: [...host, ...page, ...process, ...timers, "console", "performance"],
    clock: true,
    why: "functions put core into a cell and know nothing else",
  },
  {
    files: ["taskpane/**/*.ts", "taskpane/**/*.tsx"],
    refuse: ["**/xlsx/**", "**/cli/**"],
    packages: ["preact", "preact/*"],
    globals: [...host, ...process],
    why: "the pane knows the page and host.ts; files belong to the command line",
  },
  {
    files: ["taskpane/workbench/**/*.ts"],
    refuse: ["**/cli/**", "**/excel/**"],
    packages: ["preact"],
    globals: [...host, ...process],
    why: "the workbench is a pane over the bytes of a file; Excel and the machine are not here",
  },
  {
    files: ["taskpane/workbench/grid/*.ts"],
    refuse: ["**/cli/**", "**/excel/**", "**/pane/**"],
    packages: ["@univerjs/*"],
    globals: [...host, ...process],
    why: "only the grid folder knows the grid library, so that it can be replaced",
  },
];

/** The rooms inside a room, floor by floor: each imports from floors above it, never from its neighbours. */
const floors = {
  "src/book": [
    ["workbook"],
    ["languages"],
    ["records"],
    ["answers"],
    ["headings"],
    ["sheets"],
    ["privacy", "lists"],
    ["reading"],
    ["columns"],
    ["evidence", "year"],
    ["day", "orders"],
    ["budget"],
    ["share", "demo"],
  ],
  "src/book/reading": [
    ["told"],
    ["dates", "rows"],
    ["register"],
    ["devices"],
    ["remarks", "misplaced", "limits", "jobs"],
    ["counts", "own-log", "our-sheets", "unread"],
  ],
  "taskpane/pane": [["words"], ["state"], ["pieces", "pictures"], ["sections"]],
  "src/xlsx": [["file"], ["xml"], ["package"], ["read"], ["write", "view"]],
};

/** Files that may know one more thing than their room. */
const doors = [
  { files: ["functions/excel.ts"], allow: ["CustomFunctions"] },
  { files: ["taskpane/excel/*.ts"], allow: ["Excel", "Office"] },
];

const restrictGlobals = (names, why) => [
  "error",
  ...names.map((name) => ({ name, message: `${why}.` })),
];

/**
 * What a room on one of the floors must not import: its neighbours, all floors below, and the door; for a room inside
 * another also whatever that one must not.
 */
function refusedIn(folder, name) {
  const levels = floors[folder];
  const at = levels.findIndex((level) => level.includes(name));
  const beside = levels
    .slice(at)
    .flat()
    .filter((other) => other !== name);
  const around = dirname(folder);
  const outside = around in floors ? refusedIn(around, basename(folder)) : [];
  return [
    ...beside.map((other) => `../${other}/**`),
    "../*.ts*",
    ...outside.map((path) => `../${path}`),
  ];
}

const insideRooms = Object.entries(floors).flatMap(([folder, levels]) =>
  levels.flat().map((name) => ({
    files: [`${folder}/${name}/**/*.ts`, `${folder}/${name}/**/*.tsx`],
    room: rooms.find(({ files }) => folder.startsWith(files[0].split("/**")[0])),
    inside: {
      group: refusedIn(folder, name),
      message: `${folder}/${name} imports from the rooms above it only (the floors in eslint.config.js).`,
    },
  })),
);

const restrictImports = (room, inside) => [
  "error",
  {
    patterns: [
      ...(inside === undefined ? [] : [inside]),
      { group: room.refuse, message: `${room.why}.` },
      {
        // Anything that is neither relative nor on the room's list is refused.
        regex: `^(?!\\.{1,2}/)(?!(${room.packages.map((p) => p.replace("*", ".+").replace("/", "\\/")).join("|") || "-"})$)`,
        message: `${room.why}; this package is not on its list.`,
      },
    ],
  },
];

const noClock = (why) => [
  "error",
  { object: "Date", property: "now", message: `${why}: today is an argument.` },
  { object: "Math", property: "random", message: `${why}: chance is an argument.` },
];

const noNewDate = [
  "error",
  {
    selector: "NewExpression[callee.name='Date'], CallExpression[callee.name='Date']",
    message: "Days are whole numbers here (core/day.ts); Date objects bring time zones along.",
  },
];

export default tseslint.config(
  { ignores: ["build/", "dist/", "node_modules/"] },
  {
    files: ["**/*.ts", "**/*.tsx"],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: {
      parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname },
    },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      "@typescript-eslint/consistent-type-imports": "error",
      "@typescript-eslint/switch-exhaustiveness-check": [
        "error",
        { considerDefaultExhaustiveForUnions: true },
      ],
      complexity: ["error", 15],
      eqeqeq: "error",
      "max-depth": ["error", 4],
      "max-lines": ["error", { max: 250, skipBlankLines: true, skipComments: true }],
      "max-lines-per-function": ["error", { max: 60, skipBlankLines: true, skipComments: true }],
      "max-params": ["error", 4],
      "no-console": "error",
    },
  },
  ...rooms.map((room) => ({
    files: room.files,
    rules: {
      "no-restricted-imports": restrictImports(room),
      "no-restricted-globals": restrictGlobals(room.globals, room.why),
      ...(room.clock
        ? { "no-restricted-properties": noClock(room.why), "no-restricted-syntax": noNewDate }
        : {}),
    },
  })),
  ...insideRooms.map(({ files, room, inside }) => ({
    files,
    rules: { "no-restricted-imports": restrictImports(room, inside) },
  })),
  ...doors.map((door) => {
    const room = rooms.find((r) => r.files.some((f) => f.startsWith(door.files[0].split("/")[0])));
    return {
      files: door.files,
      rules: {
        "no-restricted-globals": restrictGlobals(
          room.globals.filter((name) => !door.allow.includes(name)),
          room.why,
        ),
      },
    };
  }),
  {
    files: ["src/core/**/*.ts"],
    plugins: { jsdoc },
    rules: {
      "jsdoc/require-jsdoc": [
        "error",
        { publicOnly: true, require: { FunctionDeclaration: true } },
      ],
      "jsdoc/require-description": "error",
      "jsdoc/require-param": "error",
      "jsdoc/require-param-description": "error",
      "jsdoc/require-returns": "error",
      "jsdoc/require-returns-description": "error",
      "jsdoc/require-example": "error",
      "jsdoc/check-param-names": "error",
    },
  },
  {
    // Tests and the command line's build step read and print.
    files: ["tests/**/*.ts"],
    rules: {
      "max-lines-per-function": "off",
      "max-lines": ["error", { max: 400, skipBlankLines: true, skipComments: true }],
    },
  },
);
