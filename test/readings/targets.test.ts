import { describe, expect, it } from "vitest";
import { isPlausible, lookUpNames } from "../../src/readings/index.ts";
import { absurdity, mergeRepeats } from "../../src/readings/targets.ts";
import { FRAME, read, testWing } from "./wing.ts";

describe("a length that can be true", () => {
  it("is within a quarter of what it should be, and at least within 100 mm", () => {
    expect([5.0, 5.1, 8.4, 8.5].map((readM) => isPlausible(readM, 6.767, 0))).toEqual([
      false,
      true,
      true,
      false,
    ]);
    expect([0.25, 0.27, 0.45, 0.47].map((readM) => isPlausible(readM, 0.36, 0))).toEqual([
      false,
      true,
      true,
      false,
    ]);
  });

  it("is never ten times too long or too short, however short the line and whatever the zero", () => {
    for (const lengthM of [0.01, 0.05, 0.1, 0.15, 0.3, 1, 8]) {
      for (const zeroM of [0, 0.002, 0.35, -0.1]) {
        expect(isPlausible(lengthM + zeroM, lengthM + zeroM, zeroM)).toBe(true);
        for (const factor of [0.001, 0.1, 10, 1000]) {
          expect(isPlausible(lengthM * factor + zeroM, lengthM + zeroM, zeroM)).toBe(false);
        }
      }
    }
  });

  it("that isn't says what the tab should read, and which slip would explain it", () => {
    const why = (readM: number) =>
      absurdity(lookUpNames(testWing()), { kind: "tab", id: "A1", side: "left" }, readM, FRAME);
    expect(why(6.767)).toBeUndefined();
    expect(why(0.6767)?.message).toBe("Found 676.7 mm; tab A1 on the left should read about 6767 mm.");
    expect(why(0.6767)?.remedy).toMatch(/10 times larger/u);
    expect(why(6767)?.remedy).toMatch(/1000 times smaller/u);
    expect(why(2.5)?.remedy).toMatch(/digits/u);
  });
});

it("repeats are joined in the order they were read, each side and kind for itself", () => {
  const merged = mergeRepeats([
    read("tab", "A1", "left", 1),
    read("tab", "A1", "right", 2),
    read("line", "A1", "left", 3),
    { ...read("tab", "A1", "left", 4, 5), note: "again" },
  ]);
  expect(merged.map(({ target, valuesM }) => [target.kind, target.side, ...valuesM])).toEqual([
    ["tab", "left", 0.001, 0.004, 0.005],
    ["tab", "right", 0.002],
    ["line", "left", 0.003],
  ]);
  expect(merged[0]?.note).toBe("again");
});
