/** An analysis with readings but without a solved model: what the view's pure parts need, made in a moment. */

import type { Analysis, LineDeviation } from "../../src/diagnosis/model.ts";
import { summariseRows } from "../../src/diagnosis/rows.ts";
import type { AttachedRib } from "../../src/geometry/model.ts";
import type { Wing } from "../../src/plan/index.ts";
import { type Check, defaultFrame, deviations, type Reading } from "../../src/readings/index.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

export function sampleWing(): Wing {
  return wingOf(samplePlan());
}

/** Readings of all tabs, off by what `offMm` says; a tab for which it gives undefined wasn't read. */
export function checkOf(wing: Wing, offMm: (tabKey: string) => number | undefined): Check {
  const readings = wing.paths.flatMap((path): Reading[] => {
    const off = offMm(path.tabKey);
    const tab = wing.tabs.find(({ key }) => key === path.tabKey);
    return off === undefined || tab === undefined
      ? []
      : [
          {
            target: { kind: "tab", id: tab.id, side: tab.side },
            valuesM: [path.specifiedM + off / 1000],
            note: undefined,
          },
        ];
  });
  return { ...defaultFrame(wing, "2026-03-14"), readings };
}

export function standIn(wing: Wing, check: Check | undefined, part: Partial<Analysis> = {}): Analysis {
  const read =
    check === undefined
      ? {
          lines: [],
          paths: wing.paths.map((path) => ({
            tabKey: path.tabKey,
            side: path.side,
            row: path.row,
            specifiedM: path.specifiedM,
            measuredM: undefined,
            deviationM: undefined,
            repeats: 0,
            repeatSpreadM: undefined,
          })),
        }
      : deviations(wing, check);
  const off = new Map(read.paths.map((path) => [path.tabKey, path.deviationM]));
  const lines = wing.lines.map((line): LineDeviation => {
    const above = wing.paths
      .filter((path) => path.lineKeys.includes(line.key))
      .flatMap((path) => off.get(path.tabKey) ?? []);
    const deviationM = above.length === 0 ? undefined : above.reduce((sum, e) => sum + e, 0) / above.length;
    const basis =
      deviationM === undefined ? "not measured" : line.carriesLines.length === 0 ? "path" : "paths above";
    return { lineKey: line.key, basis, deviationM, attributedM: 0 };
  });
  const last = Math.max(...wing.tabs.map((tab) => tab.rib));
  const ribs = [...new Set(wing.tabs.map((tab) => tab.rib))].flatMap((rib) =>
    (["left", "right"] as const).map(
      (side) => ({ side, rib, sigma: rib / (last + 1), nodes: [] }) as unknown as AttachedRib,
    ),
  );
  const tensionsN = Float64Array.from(wing.lines, (_, index) => 10 + index);
  return {
    wing,
    check,
    deviations: read,
    lines,
    rows: summariseRows(wing, read, () => undefined),
    findings: [],
    // Only what the view looks up in it.
    model: {
      ribs,
      lineMember: new Map(wing.lines.map((line, index) => [line.key, index])),
      specified: { tensionsN },
      // No members, so that nothing is there to be solved.
      network: {
        ends: new Int32Array(0),
        unstretched: new Float64Array(0),
        stiffness: new Float64Array(0),
        loads: new Float64Array(0),
      },
      memberRiser: wing.risers.map((riser) => riser.id),
      memberKind: [],
      memberLine: [],
      nodeKind: [],
      nodeName: [],
      allUpWeightN: 1000,
      referenceTensionN: 50,
    } as unknown as Analysis["model"],
    measured:
      check === undefined
        ? undefined
        : ({ tensionsN: tensionsN.map((tension) => tension * 1.5) } as unknown as Analysis["measured"]),
    ribs: [],
    meanIncidenceRad: undefined,
    leftIncidenceRad: undefined,
    rightIncidenceRad: undefined,
    ...part,
  } as Analysis;
}
