/** The two invented checks: a school wing after three damp seasons, and a light wing that is in trim. */
import type { CheckSpec } from "./make-check.ts";

/**
 * Rear rows short, right side worse, brakes so short that their free travel is used up, and one lower line of the left B row
 * hitched with 10 mm too much, so that its group of five tabs stands out.
 */
export const SCHOOL_CHECK: CheckSpec = {
  seed: 28_0314,
  date: "2026-03-14",
  note: "Invented readings for demonstration. After three seasons in a damp boathouse.",
  instrument: { name: "laser on a rail", zeroMm: 2, resolutionMm: 1 },
  ageing: {
    pathChangeMm: {
      left: { A: 1.2, B: -2.6, C: -10.8, D: -18, tip: -4, brake: -68 },
      right: { A: 1.7, B: -3.2, C: -13.4, D: -22.5, tip: -5, brake: -79 },
    },
    scatterMm: 0.5,
    wrongLoops: [{ side: "left", line: "BL2", extraTakeUpMm: 10 }],
  },
  noiseMm: 1,
  repeats: [
    { side: "left", tab: "A1", times: 3, note: "read again at the end" },
    { side: "right", tab: "A1", times: 3, note: "read again at the end" },
    {
      side: "left",
      tab: "B6",
      times: 2,
      note: "out of line with its neighbours",
    },
    { side: "right", tab: "D4", times: 2 },
    {
      side: "right",
      tab: "BR8",
      times: 2,
      note: "could hardly be true, so read twice",
    },
  ],
  notMeasured: [
    { side: "left", tab: "T3" },
    { side: "left", tab: "BR2" },
    { side: "right", tab: "C11" },
    { side: "right", tab: "T5" },
    { side: "right", tab: "BR14" },
  ],
  singleLines: [
    { side: "left", line: "BM3", note: "to see whether it is the lower line" },
    { side: "left", line: "B6", note: "to see whether it is the lower line" },
    { side: "right", line: "DM1" },
    { side: "right", line: "D1" },
    { side: "right", line: "CM4" },
    { side: "right", line: "BRM2" },
  ],
};

/** Everything within ±3 mm. */
export const LIGHT_CHECK: CheckSpec = {
  seed: 22_0418,
  date: "2026-04-18",
  note: "Invented readings for demonstration. Second season, dry.",
  instrument: { name: "steel tape", zeroMm: 0, resolutionMm: 1 },
  ageing: {
    pathChangeMm: {
      left: { A: 0.3, B: -0.2, C: -0.8, tip: -0.3, brake: -1 },
      right: { A: 0.2, B: -0.3, C: -0.9, tip: -0.4, brake: -0.8 },
    },
    scatterMm: 0.15,
    wrongLoops: [],
  },
  noiseMm: 0.5,
  repeats: [
    { side: "left", tab: "A1", times: 2 },
    { side: "right", tab: "C3", times: 2 },
  ],
  notMeasured: [],
  singleLines: [],
};
