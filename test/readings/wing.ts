/**
 * An invented small wing for readings: two rows of one cascade each, with the lengths and stiffnesses that the
 * tension correction is worked out by hand for, and a brake. A1's path: 4.0 + 1.95 + 0.36 m, less 13 mm taken
 * up by the loop, plus 0.47 m of strap.
 */
import { parsePlan, type Wing } from "../../src/plan/index.ts";
import { type Check, type CheckFrame, defaultFrame, type Reading } from "../../src/readings/index.ts";

type Row = "A" | "B";

function half() {
  const rows = (["A", "B"] as const).map((row: Row) => {
    const more = row === "A" ? 0 : 20;
    const middles = [1, 2].map((n) => ({
      id: `${row}M${n}`,
      row,
      tier: 2,
      hangsOn: `${row}L1`,
      lengthMm: 1950 + more,
      material: "middle",
    }));
    const uppers = [1, 2, 3, 4].map((n) => ({
      id: `${row}U${n}`,
      row,
      tier: 3,
      hangsOn: `${row}M${n < 3 ? 1 : 2}`,
      lengthMm: 360,
      material: "upper",
    }));
    return {
      lines: [
        {
          id: `${row}L1`,
          row,
          tier: 1,
          hangsOn: row,
          lengthMm: 4000 + more,
          material: "lower",
          ...(row === "A" ? { loop: { name: "girth hitch", takeUpMm: 13 } } : {}),
        },
        ...middles,
        ...uppers,
      ],
      tabs: [1, 2, 3, 4].map((n) => ({ id: `${row}${n}`, row, rib: 2 * n, line: `${row}U${n}` })),
    };
  });
  return {
    lines: [
      ...rows.flatMap((row) => row.lines),
      { id: "KL1", row: "brake", tier: 1, hangsOn: "pulley", lengthMm: 2400, material: "lower" },
      ...[1, 2].map((n) => ({
        id: `KU${n}`,
        row: "brake",
        tier: 2,
        hangsOn: "KL1",
        lengthMm: 3900,
        material: "upper",
      })),
    ],
    tabs: [
      ...rows.flatMap((row) => row.tabs),
      ...[1, 2].map((n) => ({ id: `K${n}`, row: "brake", rib: 3 * n, line: `KU${n}` })),
    ],
  };
}

/** The plan file. `from` is the plan's datum; `right` replaces the mirrored half on the right. */
export function plan(from: "riser" | "maillon" = "riser", right?: ReturnType<typeof half>) {
  return {
    format: "linewright-plan",
    version: 1,
    wing: { name: "Quiet Rook", allUpWeightKg: { min: 75, max: 95 } },
    materials: [
      { id: "lower", diameterMm: 1.5, stiffnessEaN: 40_000 },
      { id: "middle", diameterMm: 1.1, stiffnessEaN: 25_000 },
      { id: "upper", diameterMm: 0.7, stiffnessEaN: 13_800 },
    ],
    reference: { from, tensionN: 50 },
    risers: [
      { id: "A", lengthMm: 470 },
      { id: "B", lengthMm: 475 },
    ],
    maillons: [
      { id: "A", riser: "A", barDiameterMm: 4.5 },
      { id: "B", riser: "B", barDiameterMm: 4.5 },
    ],
    brakes: { pulleyRiser: "B", pulleyHeightMm: 200, freeTravelMm: 60 },
    sides: right === undefined ? { mirrored: half() } : { left: half(), right },
  };
}

export function testWing(from: "riser" | "maillon" = "riser"): Wing {
  return wingOf(plan(from));
}

export function wingOf(file: unknown): Wing {
  const parsed = parsePlan(file);
  if (!parsed.ok)
    throw new Error(parsed.problems.map((problem) => `${problem.where}: ${problem.message}`).join("\n"));
  return parsed.value;
}

/** The same wing, its left and right sides not alike: tab and upper line A4 only on the left. */
export function unevenWing(): Wing {
  const right = half();
  return wingOf(
    plan("riser", {
      lines: right.lines.filter((line) => line.id !== "AU4"),
      tabs: right.tabs.filter((tab) => tab.id !== "A4"),
    }),
  );
}

export const FRAME: CheckFrame = defaultFrame(testWing(), "2026-03-14");

export function check(readings: readonly Reading[], frame: Partial<CheckFrame> = {}): Check {
  return { ...FRAME, ...frame, readings };
}

/** A reading: `read("tab", "A1", "left", 6767)` in millimetres. */
export function read(
  kind: "tab" | "line",
  id: string,
  side: "left" | "right",
  ...mm: readonly number[]
): Reading {
  return { target: { kind, id, side }, valuesM: mm.map((value) => value / 1000), note: undefined };
}

/** Readings as short texts, to compare at a glance: `left A1 6767`, a line as `left line AM1 1950`. */
export function shortly(readings: readonly Reading[]): readonly string[] {
  return readings.map(({ target, valuesM }) =>
    [
      target.side,
      target.kind === "line" ? "line " : "",
      target.id,
      ...valuesM.map((value) => Number((value * 1000).toFixed(4))),
    ]
      .filter((part) => part !== "")
      .join(" ")
      .replace("line  ", "line "),
  );
}
