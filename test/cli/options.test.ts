import { describe, expect, it } from "vitest";
import { readChanges } from "../../src/cli/change.ts";
import { readArguments, readNumber } from "../../src/cli/options.ts";
import { smallWing } from "./wing.ts";

describe("numbers on the command line", () => {
  it.each([
    ["-12", -12],
    ["−12", -12],
    ["+3,5", 3.5],
    ["12mm", 12],
    ["12 mm", 12],
    [".5", 0.5],
  ])("reads %s", (text, value) => {
    expect(readNumber(text, "--zero", "mm")).toBe(value);
  });

  it.each(["", "twelve", "1e3", "0x10", "1.2.3", "12 cm", "NaN", "1,200.5"])("refuses %j", (text) => {
    expect(() => readNumber(text, "--zero", "mm")).toThrow(/--zero: .* is not a number of mm/);
  });

  it("takes a negative number after an option for its value", () => {
    const specs = { zero: { type: "string" }, json: { type: "boolean" } } as const;
    const given = readArguments(["--zero", "-3", "plan.json", "--json"], specs, ["<plan.json>"]);
    expect(given.number("zero", "mm")).toBe(-3);
    expect(given.flag("json")).toBe(true);
    expect(given.operands).toEqual(["plan.json"]);
    expect(() => readArguments(["--json", "-3"], specs, [])).toThrow(/unknown option/);
  });
});

describe("--change", () => {
  const changes = (...texts: string[]): Record<string, number> =>
    Object.fromEntries(readChanges(texts, smallWing));

  it("names one line, the pair, or all lower lines of a row, in millimetres", () => {
    expect(changes("left:A1=-10")).toEqual({ "left:A1": -0.01 });
    expect(changes("A1=-10")).toEqual({ "left:A1": -0.01, "right:A1": -0.01 });
    expect(changes("A1.1.2=2,5mm")).toEqual({ "left:A1.1.2": 0.0025, "right:A1.1.2": 0.0025 });
    expect(changes("row:C=-12")).toEqual({
      "left:C1": -0.012,
      "left:C2": -0.012,
      "right:C1": -0.012,
      "right:C2": -0.012,
    });
    expect(changes("left:row:C=4")).toEqual({ "left:C1": 0.004, "left:C2": 0.004 });
  });

  it("adds up what is asked of the same line", () => {
    expect(changes("row:A=-8", "left:A1=3")["left:A1"]).toBeCloseTo(-0.005, 12);
  });

  it.each([
    ["A1", /isn’t of the form LINE=MM/],
    ["=3", /isn’t of the form LINE=MM/],
    ["A1=", /is not a number of mm/],
    ["Z9=3", /no line "Z9"/],
    ["a1=3", /did you mean A1\?/],
    ["middle:A1=3", /no line "middle:A1"/],
    ["row:D=3", /no lower lines in row "D"; it has them in A, B, C, brake/],
  ])("refuses %s", (text, message) => {
    expect(() => readChanges([text], smallWing)).toThrow(message);
  });
});
