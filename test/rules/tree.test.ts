import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { isCode, judge } from "./judge.ts";
import { layers } from "./layers.ts";

const src = new URL("../../src/", import.meta.url);

const paths = readdirSync(src, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => relative(fileURLToPath(src), join(entry.parentPath, entry.name)).split(sep).join("/"));

const code = paths.filter(isCode);

describe("the sources", () => {
  const sources = new Map(code.map((path) => [path, readFileSync(new URL(path, src), "utf8")]));
  const { files, imports, offences } = judge(sources, layers, new Set(paths));

  it("import only what the table of layers lists, without a circle", () => {
    expect(offences).toEqual([]);
  });

  it("have been read, all of them", () => {
    expect(files).toBe(code.length);
    expect(code).toContain("plan/model.ts");
    expect(code).toContain("geometry/model.ts");
    expect(imports).toBeGreaterThan(files / 4);
  });

  it("lie in folders that the table names, and the table's core is what is compiled without DOM and Node", () => {
    const settings = readFileSync(new URL("tsconfig.core.json", src), "utf8").replace(/^\s*\/\/.*$/gm, "");
    const core = layers.filter((layer) => layer.core).map((layer) => layer.folder);
    expect(JSON.parse(settings).include).toEqual(core);
  });
});
