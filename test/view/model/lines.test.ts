import { describe, expect, it } from "vitest";
import { deviationColour } from "../../../src/diagnosis/colour.ts";
import { deviationScaleOf } from "../../../src/diagnosis/scale.ts";
import { cascadeOf, tabsUnder } from "../../../src/view/model/cascade.ts";
import { signedMm } from "../../../src/view/model/format.ts";
import { lineCard } from "../../../src/view/model/lineCard.ts";
import { findLines, lineEntries } from "../../../src/view/model/lineTable.ts";
import { pickedLines, pickedText, toggled } from "../../../src/view/model/picked.ts";
import { rowEntries } from "../../../src/view/model/rowTable.ts";
import { checkOf, sampleWing, standIn } from "../stand-in.ts";

const wing = sampleWing();
const cascade = cascadeOf(wing);
const off = (key: string): number | undefined =>
  key === "left:A1" ? -8 : key === "right:A1" ? 3 : key.includes("B") ? undefined : -2;
const analysis = standIn(wing, checkOf(wing, off));
const entries = lineEntries(analysis, cascade);
const line = (key: string) => wing.lines.find((entry) => entry.key === key);
const upperA1 = wing.tabs.find((tab) => tab.key === "left:A1")?.lineKey ?? "";

describe("the cascade above a line", () => {
  it("is the line's own tab for an upper line and all four for a lower one", () => {
    expect(cascade.tabsAbove.get(upperA1)).toEqual(["left:A1"]);
    expect(cascade.tabsAbove.get("left:A1")).toHaveLength(4);
  });

  it("holds every tab once over the lower lines together, brakes and tips included", () => {
    const lower = wing.lines.filter((entry) => entry.tier === 1);
    const tabs = lower.flatMap((entry) => cascade.tabsAbove.get(entry.key) ?? []);
    expect(tabs).toHaveLength(wing.tabs.length);
    expect(
      tabsUnder(
        cascade,
        lower.map(({ key }) => key),
      ),
    ).toEqual(new Set(wing.tabs.map(({ key }) => key)));
  });
});

describe("the list of lines", () => {
  it("has every line, front row first and brakes last, the left before its twin", () => {
    expect(entries).toHaveLength(wing.lines.length);
    expect(entries[0]?.row).toBe("A");
    expect(entries.at(-1)?.row).toBe("brake");
    expect(entries.slice(0, 2).map(({ side }) => side)).toEqual(["left", "right"]);
    expect(entries[0]?.id).toBe(entries[1]?.id);
  });

  it("has the figures of deviations that the colours don't tell apart from the specified", () => {
    const scale = deviationScaleOf(0.02, 0.009);
    const colours = new Set(entries.map(({ deviationM }) => deviationColour(deviationM ?? 0, scale)));
    expect(colours.size).toBe(1);
    const texts = new Set(entries.map(({ deviationM }) => signedMm(deviationM)));
    expect(texts.size).toBeGreaterThanOrEqual(3);
    expect(rowEntries(analysis).find(({ row }) => row === "C")?.meanM).toBeCloseTo(-0.002, 9);
  });

  it("finds a line by its name, and puts the exact name first", () => {
    const found = findLines(entries, "a1");
    expect(found[0]?.id).toBe("A1");
    expect(found.every((entry) => entry.words.some((word) => word.startsWith("a1")))).toBe(true);
  });

  it("finds the chain below a tab by the tab's name", () => {
    const path = wing.paths.find(({ tabKey }) => tabKey === "left:C3");
    const found = new Set(findLines(entries, "C3 left").map(({ key }) => key));
    expect(path?.lineKeys.every((key) => found.has(key))).toBe(true);
  });

  it("narrows with every word, and finds nothing for a word that no line answers", () => {
    const all = findLines(entries, "lower");
    const left = findLines(entries, "lower left");
    expect(left.length * 2).toBe(all.length);
    expect(left.every((entry) => entry.side === "left")).toBe(true);
    expect(findLines(entries, "lower nonsense")).toEqual([]);
    expect(findLines(entries, "  ")).toBe(entries);
  });
});

describe("the card of a line", () => {
  it("gives an upper line its path's reading and its twin's", () => {
    const card = lineCard(analysis, cascade, upperA1);
    expect(card?.basis).toBe("path");
    expect(card?.deviationM).toBeCloseTo(-0.008, 9);
    expect(card?.mirrorDeviationM).toBeCloseTo(0.003, 9);
    expect(card?.mirrorDifferenceM).toBeCloseTo(-0.011, 9);
    expect(card?.paths).toHaveLength(1);
    expect(card?.paths[0]?.measuredM).toBeCloseTo((card?.paths[0]?.specifiedM ?? 0) - 0.008, 9);
    expect(card?.measuredM, "the line itself was not read").toBeUndefined();
  });

  it("says over how many paths a lower line's deviation is the mean", () => {
    const part = standIn(
      wing,
      checkOf(wing, (key) => (key === "left:A2" ? undefined : off(key))),
    );
    const card = lineCard(part, cascade, "left:A1");
    expect(card?.basisText).toBe("mean of 3 of the 4 paths through it");
    expect(lineCard(analysis, cascade, "left:A1")?.basisText).toBe("mean of the 4 paths through it");
  });

  it("says so where no reading runs through a line", () => {
    const card = lineCard(analysis, cascade, "left:B1");
    expect(card?.deviationM).toBeUndefined();
    expect(card?.mirrorDifferenceM).toBeUndefined();
    expect(card?.basisText).toBe("no reading runs through it");
  });

  it("names what the line hangs on and what it carries", () => {
    expect(lineCard(analysis, cascade, "left:A1")?.hangsOn).toBe("maillon A");
    expect(lineCard(analysis, cascade, "left:A1")?.carries).toBe("A1.1, A1.2");
    expect(lineCard(analysis, cascade, upperA1)?.carries).toBe("tab A1");
    const brake = wing.lines.find((entry) => entry.hangsOn.kind === "pulley");
    expect(lineCard(analysis, cascade, brake?.key ?? "")?.hangsOn).toBe("brake handle, through the pulley");
  });

  it("gives the tension as specified and as measured, and the latter only with readings", () => {
    const card = lineCard(analysis, cascade, "right:C2");
    expect(card?.measuredTensionN).toBeCloseTo(1.5 * (card?.specifiedTensionN ?? Number.NaN), 9);
    expect(lineCard(standIn(wing, undefined), cascade, "right:C2")?.measuredTensionN).toBeUndefined();
  });

  it("isn't there for a line that the wing doesn't have", () => {
    expect(lineCard(analysis, cascade, "left:Z9")).toBeUndefined();
  });
});

describe("what is picked", () => {
  const found = standIn(wing, analysis.check, {
    findings: [
      {
        id: "one",
        kind: "single",
        severity: "act",
        headline: "",
        detail: "",
        lineKeys: ["left:A1", "left:A2"],
        tabKeys: [],
        side: "left",
      },
    ],
  });

  it("is a line, a finding's lines or a row's", () => {
    expect(pickedLines({ kind: "line", key: "left:A1" }, found)).toEqual(new Set(["left:A1"]));
    expect(pickedLines({ kind: "finding", id: "one" }, found)).toEqual(new Set(["left:A1", "left:A2"]));
    const row = pickedLines({ kind: "row", row: "tip" }, found);
    expect([...row].every((key) => line(key)?.row === "tip")).toBe(true);
    expect(row.size).toBeGreaterThan(0);
  });

  it("is nothing where an old address names what this wing doesn't have", () => {
    expect(pickedLines({ kind: "line", key: "left:Z9" }, found).size).toBe(0);
    expect(pickedLines({ kind: "finding", id: "gone" }, found).size).toBe(0);
    expect(pickedText({ kind: "line", key: "left:Z9" }, found)).toBeUndefined();
  });

  it("never leaves a filter empty", () => {
    expect(toggled(new Set(["left", "right"]), "left")).toEqual(new Set(["right"]));
    expect(toggled(new Set(["right"]), "right")).toEqual(new Set(["right"]));
    expect(toggled(new Set(["right"]), "left")).toEqual(new Set(["left", "right"]));
  });
});
