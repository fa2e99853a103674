import { describe, expect, it } from "vitest";
import { readCellNumber, readUnit } from "../../src/readings/numbers.ts";

const values = (text: string) => readCellNumber(text)?.senses.map((sense) => sense.value);

describe("a number in a cell", () => {
  it.each([
    ["7421", 7421],
    ["7421.5", 7421.5],
    ["7421,5", 7421.5],
    ["742,15", 742.15],
    ["7,4215", 7.4215],
    ["0,360", 0.36],
    ["0.360", 0.36],
    ["7421.125", 7421.125],
    ["7.421,5", 7421.5],
    ["7,421.5", 7421.5],
    ["7 421", 7421],
    ["7 421,5", 7421.5],
    ["7\u00a0421", 7421],
    ["7\u202f421,5", 7421.5],
    ["7'421.5", 7421.5],
    ["7’421", 7421],
    ["7.421e3", 7421],
    ["-3", -3],
    ["\u22123,5", -3.5],
    ["+7421", 7421],
  ])("%s is %d and nothing else", (text, value) => {
    const [only, ...more] = values(text) ?? [];
    expect(only).toBeCloseTo(value, 9);
    expect(more).toEqual([]);
  });

  it.each([
    ["7.421", [7.421, 7421]],
    ["7,421", [7.421, 7421]],
    ["742.125", [742.125, 742125]],
  ])("%s has two senses", (text, both) => {
    expect(values(text)).toEqual(both);
  });

  it("tells the decimal mark that each sense implies", () => {
    expect(readCellNumber("7.421")?.senses.map((sense) => sense.mark)).toEqual([".", ","]);
    expect(readCellNumber("7.421,5")?.senses[0]?.mark).toBe(",");
    expect(readCellNumber("7 421")?.senses[0]?.mark).toBeUndefined();
  });

  it.each([
    "",
    "abc",
    "74x1",
    "7.42.1",
    "74 21",
    "7,4,2",
    "7.421.5",
    "1,234.567,8",
    "7421 ft",
    "7421mmm",
    "#REF!",
    "=A1",
    "7 4215",
    "NaN",
    "1e999",
  ])("%j is none", (text) => {
    expect(readCellNumber(text)).toBeUndefined();
  });

  it.each([
    ["742.1 cm", "cm"],
    ["742.1cm", "cm"],
    ["7,4215 M", "m"],
    ["7421 MM", "mm"],
    ["7421㎜", "mm"],
    ["292.2 in", "in"],
    ['292.2"', "in"],
    ["292,2 Zoll", "in"],
    ["7421", undefined],
  ])("%s has the unit %s", (text, unit) => {
    expect(readCellNumber(text)?.unit).toBe(unit);
  });
});

it("a unit may stand in brackets", () => {
  expect(["mm", " CM ", "[m]", "(mm)", "[in]", "ft", ""].map(readUnit)).toEqual([
    "mm",
    "cm",
    "m",
    "mm",
    "in",
    undefined,
    undefined,
  ]);
});
