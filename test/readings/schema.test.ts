import { describe, expect, it } from "vitest";
import { checkFileSchema, checkJsonSchema } from "../../src/readings/index.ts";

describe("the check file's JSON Schema", () => {
  const schema = checkJsonSchema();

  it("is plain data of draft 2020-12 that allows no unknown keys", () => {
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
    expect(schema).toMatchObject({
      $schema: "https://json-schema.org/draft/2020-12/schema",
      additionalProperties: false,
    });
  });

  it("asks for the frame and leaves wing, instrument and note to the writer", () => {
    expect(schema.required).toEqual(["format", "version", "date", "tensionN", "from", "readings"]);
    expect(Object.keys(schema.properties as object)).toEqual(
      expect.arrayContaining(["wing", "instrument", "note"]),
    );
  });
});

describe("the check file's schema", () => {
  const file = {
    format: "linewright-check",
    version: 1,
    date: "2026-03-14",
    tensionN: 50,
    from: "riser",
    readings: [
      { tab: "A1", side: "left", mm: 7421 },
      { tab: "A2", side: "left", mm: [7415, 7416], note: "twice" },
      { line: "AM1", side: "right", mm: 2140 },
    ],
  };

  it("takes the example of the format", () => {
    expect(checkFileSchema.parse(file)).toEqual(file);
  });

  it.each([
    { readings: [{ tab: "A1", line: "A1", side: "left", mm: 7421 }] },
    { readings: [{ tab: "A1", side: "left" }] },
    { readings: [{ tab: " ", side: "left", mm: 7421 }] },
    { readings: [{ tab: "A1", side: "left", mm: Number.NaN }] },
    { readings: undefined },
    { colour: "red" },
  ])("refuses %j", (change) => {
    expect(checkFileSchema.safeParse({ ...file, ...change }).success).toBe(false);
  });
});
