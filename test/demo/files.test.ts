import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { demoFiles } from "../../src/demo/index.ts";

const FOLDER = new URL("../../public/demo/", import.meta.url);

describe("the demo's files", () => {
  const files = demoFiles();

  test.each(files)(
    "$name is what the generator makes; `npx tsx src/cli/write-demo.ts` writes it",
    ({ name, text }) => {
      expect(readFileSync(new URL(name, FOLDER), "utf8")).toBe(text);
    },
  );

  test("are all that lies in their folder", () => {
    expect(readdirSync(FOLDER).sort()).toEqual(files.map(({ name }) => name).sort());
  });
});
