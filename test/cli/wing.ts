/** A plan and readings of it, as files, for the commands that take a wing. */
import type { Wing } from "../../src/plan/index.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

/** Three rows and brakes, without a tip line: small, so that the model is quick. */
export const smallPlan = samplePlan({ rows: ["A", "B", "C"], lowersPerRow: 2, tip: false });
export const smallWing: Wing = wingOf(smallPlan);

export interface ReadTab {
  readonly id: string;
  readonly side: "left" | "right";
  readonly row: string;
  readonly mm: number;
}

/** What an exact instrument shows at every tab, each path off by what `deviationMm` says. */
export function readings(deviationMm: (tab: { id: string; side: string; row: string }) => number): ReadTab[] {
  return smallWing.paths.map((path, i) => {
    const { id, side, row } = smallWing.tabs[i] as Wing["tabs"][number];
    return { id, side, row, mm: 1000 * path.specifiedM + deviationMm({ id, side, row }) };
  });
}

export function checkFile(tabs: readonly ReadTab[]): string {
  return JSON.stringify({
    format: "linewright-check",
    version: 1,
    date: "2026-03-14",
    tensionN: 50,
    from: "riser",
    readings: tabs.map(({ id, side, mm }) => ({ tab: id, side, mm })),
  });
}

export function table(tabs: readonly ReadTab[]): string {
  return ["tab;side;mm", ...tabs.map(({ id, side, mm }) => `${id};${side};${mm.toFixed(1)}`)].join("\n");
}
