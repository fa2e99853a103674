/** The invented work on the school wing: what its bench kept of the loops, and what was done after the check. */
import type { LoopBookFile } from "../workshop/index.ts";
import { SCHOOL_CHECK } from "./checks.ts";
import type { WorkSpec } from "./make-work.ts";

const ON_BENCH = { barDiameterMm: 4.5, date: "2026-03-16" } as const;

/**
 * The loops as the plan specifies them but for the one turn too much that was found on the left B row; three take-ups measured;
 * the front row is to stay as it is.
 */
export const SCHOOL_LOOPS: LoopBookFile = {
  format: "linewright-loops",
  version: 1,
  wing: "Tidewrack 28",
  present: [{ line: "BL2", side: "left", loop: "one extra turn", takeUpMm: 10 }],
  benchTakeUps: [
    { ...ON_BENCH, loop: "one extra turn", lineDiameterMm: 1.7, takeUpMm: 9.4 },
    { ...ON_BENCH, loop: "one extra turn", lineDiameterMm: 1.7, takeUpMm: 9.9, note: "tied anew" },
    {
      ...ON_BENCH,
      loop: "girth hitch",
      lineDiameterMm: 1.7,
      takeUpMm: 13.3,
      standardUncertaintyMm: 0.4,
    },
    { ...ON_BENCH, loop: "one extra turn", lineDiameterMm: 2.1, takeUpMm: 10.2 },
  ],
  choices: {
    rows: ["B", "C", "D", "tip"],
    kinds: ["plain eye", "one extra turn", "girth hitch", "two extra turns"],
    reserveMm: 0,
    symmetry: "same",
    rowsTogether: false,
    aim: "mean",
    uniformFree: true,
    worthMm: 8,
  },
};

/** The best plan of loops, done in one afternoon; on the right of the D row one loop was left in. */
export const SCHOOL_WORK: WorkSpec = {
  before: SCHOOL_CHECK,
  seed: 28_0322,
  takeUpScatterMm: 0.4,
  leftIn: [{ side: "right", line: "DL2" }],
  after: {
    date: "2026-03-21",
    note: "Invented readings for demonstration. After the loops were changed; brakes not yet set.",
    instrument: { name: "laser on a rail", zeroMm: 2, resolutionMm: 1 },
    dayShiftMm: 1.5,
    noiseMm: 1,
    repeats: [
      { side: "left", tab: "A1", times: 3, note: "read again at the end" },
      { side: "right", tab: "A1", times: 3, note: "read again at the end" },
      { side: "left", tab: "D4", times: 2 },
    ],
    notMeasured: [{ side: "right", tab: "T5" }],
    singleLines: [],
  },
};
