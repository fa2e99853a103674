import { describe, expect, it } from "vitest";
import { judge } from "./judge.ts";
import { layers } from "./layers.ts";

/** A small tree that keeps the rule; each test adds one file that breaks it. */
const clean = {
  "plan/model.ts": "export interface Wing { readonly name: string }\nexport const rows = [1];\n",
  "plan/read.ts":
    'import Papa from "papaparse";\nimport { z } from "zod";\nimport type { Wing } from "./model.ts";\n' +
    "export const wing: Wing = { name: z.string().parse(String(Papa)) };\n",
  "geometry/model.ts": 'import type { Wing } from "../plan/model.ts";\nexport type Shape = Wing;\n',
  "geometry/solve.ts": 'import { rows } from "../plan/model.ts";\nexport const solve = () => rows;\n',
  "record/share.ts": 'export * from "../geometry/model.ts";\n',
  "view/App.tsx":
    'import { Canvas } from "@react-three/fiber";\nimport { solve } from "../geometry/solve.ts";\nimport "./app.css";\n' +
    'const worker = new Worker(new URL("./solver.ts", import.meta.url), { type: "module" });\n' +
    "export const App = () => <Canvas>{String(solve() ?? worker)}</Canvas>;\n",
  "view/solver.ts": 'import { solve } from "../geometry/solve.ts";\nself.postMessage(solve());\n',
  "cli/main.ts":
    'import { readFile } from "node:fs/promises";\nimport { rows } from "../plan/model.ts";\nreadFile(String(rows));\n',
  "main.tsx":
    'import { createRoot } from "react-dom/client";\nimport { App } from "./view/App.tsx";\ncreateRoot(document.body).render(<App />);\n',
};
const others = new Set(["view/app.css", "index.html"]);

const offencesWith = (planted: Readonly<Record<string, string>>): readonly string[] =>
  judge(new Map(Object.entries({ ...clean, ...planted })), layers, others).offences;

describe("the import rule", () => {
  it("finds nothing in a tree that keeps it", () => {
    expect(offencesWith({})).toEqual([]);
  });

  it.each([
    [
      "an import of a folder above",
      "plan",
      'import { solve } from "../geometry/solve.ts";',
      "plan may not import from geometry",
    ],
    [
      "a type-only import of a folder above",
      "plan",
      'import type { Shape } from "../geometry/model.ts";',
      "type import",
    ],
    [
      "an inline type import of a folder above",
      "plan",
      'import { type Shape } from "../geometry/model.ts";',
      "type import",
    ],
    [
      "a type named by import()",
      "plan",
      'export type S = import("../geometry/model.ts").Shape;',
      "type query",
    ],
    ["a re-export from above", "plan", 'export * from "../geometry/solve.ts";', "re-export"],
    ["a named re-export from above", "plan", 'export { solve } from "../geometry/solve.ts";', "re-export"],
    [
      "a type-only re-export from above",
      "plan",
      'export type { Shape } from "../geometry/model.ts";',
      "re-export",
    ],
    [
      "a dynamic import of a folder above",
      "plan",
      'export const s = () => import("../geometry/solve.ts");',
      "dynamic import",
    ],
    [
      "a dynamic import by a template",
      "plan",
      "export const s = () => import(`../geometry/solve.ts`);",
      "dynamic import",
    ],
    [
      "an import for its effect",
      "plan",
      'import "../geometry/solve.ts";',
      "plan may not import from geometry",
    ],
    [
      "the view imported by the core",
      "record",
      'import { App } from "../view/App.tsx";',
      "record may not import from view",
    ],
    [
      "the command line imported by the core",
      "record",
      'import "../cli/main.ts";',
      "record may not import from cli",
    ],
    [
      "the command line imported by the view",
      "view",
      'import "../cli/main.ts";',
      "view may not import from cli",
    ],
    [
      "a worker of the view started by the core",
      "flight",
      'new Worker(new URL("../view/solver.ts", import.meta.url));',
      "url of",
    ],
    [
      "a worker named without a leading dot that isn't there",
      "view",
      'new Worker(new URL("missing.ts", import.meta.url));',
      "names no file",
    ],
    [
      "a worker as a query",
      "flight",
      'import Solver from "../view/solver.ts?worker";',
      "flight may not import from view",
    ],
    [
      "three in the core",
      "geometry",
      'import { Vector3 } from "three";',
      "not among the packages of geometry",
    ],
    [
      "a path inside three in the core",
      "geometry",
      'import x from "three/addons/x.js";',
      "not among the packages of geometry",
    ],
    [
      "types of three in the core",
      "geometry",
      'import type { Vector3 } from "three";',
      "not among the packages of geometry",
    ],
    [
      "React in the core",
      "diagnosis",
      'import { useMemo } from "react";',
      "not among the packages of diagnosis",
    ],
    [
      "React by a pragma in the core",
      "diagnosis",
      "/** @jsxImportSource react */",
      "not among the packages of diagnosis",
    ],
    [
      "the store's package in the core",
      "record",
      'import { create } from "zustand";',
      "not among the packages of record",
    ],
    ["Node in the core", "plan", 'import { readFileSync } from "node:fs";', "not among the packages of plan"],
    [
      "Node in the core, without its prefix",
      "plan",
      'import { readFileSync } from "fs";',
      "not among the packages of plan",
    ],
    ["Node in the view", "view", 'import { readFileSync } from "node:fs";', "not among the packages of view"],
    ["React on the command line", "cli", 'import "react";', "not among the packages of cli"],
    [
      "a package whose name begins like a listed one",
      "plan",
      'import "zod-extra";',
      "not among the packages of plan",
    ],
    ["require", "plan", 'export const fs = require("fs");', "require of"],
    ["import by assignment", "plan", 'import fs = require("fs");', "require of"],
    ["a module declared anew", "plan", 'declare module "three" {}', "module declaration"],
    ["types by a triple slash", "plan", '/// <reference types="node" />', "reference of"],
    ["a file by a triple slash", "plan", '/// <reference path="../geometry/model.ts" />', "reference of"],
    ["a computed import", "plan", "export const s = (name: string) => import(name);", "can't be checked"],
    [
      "a computed worker",
      "view",
      // biome-ignore lint/suspicious/noTemplateCurlyInString: the planted line holds one
      "new Worker(new URL(`./${1}.ts`, import.meta.url));",
      "can't be checked",
    ],
    ["imports by a pattern", "view", 'import.meta.glob("../**/*.ts");', "can't be checked"],
    ["a relative import without ending", "geometry", 'import "../plan/model";', "names no file"],
    ["a relative import of nothing", "geometry", 'import "../plan/absent.ts";', "names no file"],
    ["an import from outside src", "geometry", 'import "../../test/rules/layers.ts";', "leaves src"],
    ["a stylesheet in the core", "geometry", 'import "../plan/x.css";', "names no file"],
    ["a folder that the table doesn't name", "utils", "export {};", 'the folder "utils" is not in the table'],
  ])("catches %s", (_, folder, line, complaint) => {
    const offences = offencesWith({
      [`${folder}/planted.ts`]: `const first = 1;\n${line}\nexport { first };\n`,
    });
    expect(offences).toHaveLength(1);
    expect(offences[0]).toContain(`${folder}/planted.ts`);
    expect(offences[0]).toContain(complaint);
    if (folder !== "utils") expect(offences[0]).toContain(":2:");
  });

  it("catches JSX in the core, which imports React unwritten", () => {
    expect(offencesWith({ "record/planted.tsx": "export const a = 1;\n" })).toEqual([
      expect.stringContaining("not among the packages of record"),
    ]);
  });

  it("lets the command line name the package file, and nothing else outside", () => {
    expect(offencesWith({ "cli/planted.ts": 'new URL("../../package.json", import.meta.url);' })).toEqual([]);
    expect(
      offencesWith({ "cli/planted.ts": 'new URL("../../tsconfig.json", import.meta.url);' }),
    ).toHaveLength(1);
    expect(
      offencesWith({ "plan/planted.ts": 'new URL("../../package.json", import.meta.url);' }),
    ).toHaveLength(1);
  });

  it("catches an asset of a kind that a folder may not import", () => {
    const planted = { "geometry/planted.ts": 'import "./look.css";\n' };
    const { offences } = judge(
      new Map(Object.entries({ ...clean, ...planted })),
      layers,
      new Set(["view/app.css", "geometry/look.css"]),
    );
    expect(offences).toEqual([expect.stringContaining("is no kind of file that geometry may import")]);
  });

  it.each([
    [
      "two files",
      { "plan/a.ts": 'import "./b.ts";', "plan/b.ts": 'import "./a.ts";' },
      "plan/a.ts → plan/b.ts → plan/a.ts",
    ],
    [
      "three files, by a type, a re-export and a dynamic import",
      {
        "plan/a.ts": 'import type { B } from "./b.ts";\nexport type A = B;',
        "plan/b.ts": 'export * from "./c.ts";',
        "plan/c.ts": 'export const a = () => import("./a.ts");',
      },
      "plan/a.ts → plan/b.ts → plan/c.ts → plan/a.ts",
    ],
    ["a file with itself", { "plan/a.ts": 'import "./a.ts";' }, "plan/a.ts → plan/a.ts"],
    [
      "a worker with the file that starts it",
      { "view/a.ts": 'new Worker(new URL("./b.ts", import.meta.url));', "view/b.ts": 'import "./a.ts";' },
      "view/a.ts → view/b.ts → view/a.ts",
    ],
  ])("catches a circle of %s", (_, planted, chain) => {
    expect(offencesWith(planted)).toEqual([`cycle: ${chain}`]);
  });

  it("does not take two ways to the same file for a circle", () => {
    const planted = {
      "plan/a.ts": 'import "./b.ts";\nimport "./c.ts";',
      "plan/b.ts": 'import "./d.ts";',
      "plan/c.ts": 'import "./d.ts";',
      "plan/d.ts": "export {};",
    };
    expect(offencesWith(planted)).toEqual([]);
  });

  it("is not misled by text that looks like an import", () => {
    const planted = {
      "plan/planted.ts":
        '// import "three";\nexport const a = \'import "three"\';\nexport const b = `import("three")`;\nexport const c = /import "three"/;\n',
    };
    expect(offencesWith(planted)).toEqual([]);
  });

  it("refuses to judge what it can't parse", () => {
    expect(() => offencesWith({ "plan/planted.ts": "import {" })).toThrow("plan/planted.ts can't be parsed");
  });
});
