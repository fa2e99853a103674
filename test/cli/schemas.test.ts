import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { networkJsonSchema } from "../../src/geometry/network-schema.ts";
import { draftJsonSchema } from "../../src/plan/draft/index.ts";
import { checkJsonSchema } from "../../src/readings/index.ts";
import { journalEntryJsonSchema } from "../../src/readings/session/index.ts";

describe("the published JSON Schemas", () => {
  it.each([
    ["check", checkJsonSchema()],
    ["network", networkJsonSchema()],
    ["draft", draftJsonSchema()],
    ["journal", journalEntryJsonSchema()],
  ])("%s.schema.json is what the code makes", (name, schema) => {
    const published = readFileSync(new URL(`../../public/${name}.schema.json`, import.meta.url), "utf8");
    expect(JSON.parse(published)).toEqual(JSON.parse(JSON.stringify(schema)));
  });
});
