/**
 * Who may import whom, as data. A file imports from its own folder, from folders named here, and from packages named
 * here; whatever isn't listed is an error.
 */
export interface Layer {
  /** Folder under src; "" for the files that lie in src itself. */
  readonly folder: string;
  /** Other folders that it may import from. */
  readonly from: readonly string[];
  /** Packages, with all that they export under a path of their own (`three` includes `three/addons/…`). */
  readonly packages: readonly string[];
  /** Kinds of files, besides TypeScript, that it may import. */
  readonly assets: readonly string[];
  /** Files outside src that it may name, from src; `*` for any in a folder. */
  readonly outside: readonly string[];
  /** True for what runs headless: no page, no Node. */
  readonly core: boolean;
}

/** The core from bottom to top: each may import those before it. */
const coreOrder = [
  "words",
  "plan",
  "readings",
  "geometry",
  "diagnosis",
  "workshop",
  "flight",
  "demo",
  "record",
] as const;

/** Small packages without page or Node that any part of the core may use: schemas, tables, matrices, statistics, colours, arrays. */
const corePackages = ["zod", "papaparse", "ml-matrix", "jstat", "culori", "d3-array", "d3-scale"];

/** Packages that a single part of the core needs besides. */
const extraPackages: Readonly<Record<string, readonly string[]>> = {
  // Messages in ICU MessageFormat.
  words: ["intl-messageformat"],
  // Tables from spreadsheets: XLSX from its bytes, without page or Node.
  readings: ["read-excel-file"],
  // A report's charts are drawn as text, without a page; archives and workbooks are made from bytes.
  record: ["d3-shape", "fflate", "write-excel-file"],
};

export const layers: readonly Layer[] = [
  ...coreOrder.map((folder, place) => ({
    folder,
    from: coreOrder.slice(0, place),
    packages: [...corePackages, ...(extraPackages[folder] ?? [])],
    assets: [".json"],
    outside: [],
    core: true,
  })),
  {
    folder: "view",
    from: coreOrder,
    packages: [
      "react",
      "react-dom",
      "three",
      "@react-three/fiber",
      "zustand",
      "idb",
      "culori",
      "d3-array",
      "d3-scale",
      "d3-shape",
      "@fontsource-variable/atkinson-hyperlegible-mono",
      "@fontsource-variable/atkinson-hyperlegible-next",
      "vite/client",
    ],
    assets: [".css", ".json", ".svg"],
    outside: [],
    core: false,
  },
  {
    folder: "cli",
    from: coreOrder,
    packages: ["node:*", "tsx", "zod"],
    assets: [".json"],
    // Its own version, where the packages are to be installed, and what it writes for the app to offer.
    outside: ["..", "../package.json", "../public/*"],
    core: false,
  },
  {
    folder: "",
    from: ["view"],
    packages: [
      "react",
      "react-dom",
      "@fontsource-variable/atkinson-hyperlegible-mono",
      "@fontsource-variable/atkinson-hyperlegible-next",
    ],
    assets: [".css"],
    outside: [],
    core: false,
  },
];
