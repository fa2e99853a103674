import { describe, expect, it } from "vitest";
import { readHeadings } from "../../src/readings/headings.ts";

const meaning = (title: string) => {
  const [column] = readHeadings([title]);
  return column && [column.role, column.unit];
};

describe("a heading", () => {
  it.each([
    ["tab", ["tab", undefined]],
    ["TAB", ["tab", undefined]],
    ["Line", ["line", undefined]],
    ["line name", ["line", undefined]],
    ["Name", ["name", undefined]],
    ["point", ["name", undefined]],
    ["left", ["left", undefined]],
    ["L", ["left", undefined]],
    ["left [mm]", ["left", "mm"]],
    ["left (m)", ["left", "m"]],
    ["L mm", ["left", "mm"]],
    ["Left, in cm", ["left", "cm"]],
    ["left 2", ["left", undefined]],
    ["Left 2 [mm]", ["left", "mm"]],
    ["left side", ["left", undefined]],
    ["links", ["left", undefined]],
    ["Linke Seite (cm)", ["left", "cm"]],
    ["gauche", ["left", undefined]],
    ["R", ["right", undefined]],
    ["Rechts [mm]", ["right", "mm"]],
    ["côté droit", ["right", undefined]],
    ["droite", ["right", undefined]],
    ["side", ["side", undefined]],
    ["côté", ["side", undefined]],
    ["value", ["value", undefined]],
    ["Reading (mm)", ["value", "mm"]],
    ["length", ["value", undefined]],
    ["mm", ["value", "mm"]],
    ["unit", ["unit", undefined]],
    ["repeat", ["repeat", undefined]],
    ["Note", ["note", undefined]],
  ])("%s is understood", (title, expected) => {
    expect(meaning(title)).toEqual(expected);
  });

  it.each([
    "left deviation",
    "left specified",
    "difference",
    "left/right",
    "plan [mm]",
    "left mm cm",
    "",
    "7421",
    "specified length left",
    "A1",
  ])("%j is not taken for anything", (title) => {
    expect(meaning(title)).toBeUndefined();
  });
});
