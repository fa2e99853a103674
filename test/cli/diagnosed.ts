/** Diagnoses by the command line, each made once; as text, or as JSON. */
import { expect } from "vitest";
import { DEMOS, type DemoName } from "../../src/demo/index.ts";
import { type Run, run } from "./io.ts";
import { checkFile, readings } from "./wing.ts";

interface Value {
  valueMm: number;
  standardUncertaintyMm: number;
  expandedUncertaintyMm: number;
  limitsMm: { lower: number | null; upper: number | null };
  outcome: "conforms" | "does not conform" | "undecided";
  probability: number;
}

interface Band {
  measuredDeg: number;
  readingsStandardDeviationDeg: number;
  closedForm95Deg: [number, number];
  readings95Deg: [number, number];
  combined95Deg: [number, number];
}

/** What the tests look at of the JSON. */
export interface Diagnosis {
  ok: boolean;
  check: { tensionN: number; from: string };
  tabs: { tab: string; row: string; left: { deviationMm: number }; right: { deviationMm: number } }[];
  rows: { row: string; meanMm: number }[];
  readingUncertainty: { settings: Record<string, number>; pathsMm: Record<string, number> };
  uniform: { valueMm: number; standardUncertaintyMm: number; removed: boolean };
  findings: { severity: "act" | "watch" | "fine"; headline: string; valueMm: number | null }[];
  decisions: {
    rule: { name: string; kind: string; sentence: string };
    toleranceNote: string;
    caution: string;
    count: { conforms: number; doesNotConform: number; undecided: number; notRead: number };
    assessed: (Value & { kind: string; subject: string; tabs: string[] })[];
  };
  rowDifferences: (Value & { front: string; rear: string })[];
  leftLessRight: (Value & { row: string })[];
  mistakes: {
    kind: string;
    applied: boolean;
    readings: { id: string; side: string; readMm: number; insteadMm: number | null }[];
    correction: { edits: { to: { valueMm: number } }[] } | null;
  }[];
  attribution: {
    lines: {
      line: string;
      changeMm: number;
      standardDeviationMm: number;
      knowledge: string;
      partners: unknown[];
    }[];
  };
  nextReadings: { sentence: string; best: { line: string; beforeMm: number; afterMm: number }[] };
  incidence: {
    mean: Band;
    left: Band;
    right: Band;
    leftLessRight: Band;
    ribs: (Band & { side: string; rib: number })[];
    draws: number;
    assumptions: { name: string; ribs: unknown[] }[];
  };
  caution: string;
  cautions: string[];
}

const done = new Map<string, Promise<Run>>();

/** The same command line isn't run twice. */
export function diagnosed(plan: unknown, check: string, ...options: string[]): Promise<Run> {
  const files = { "plan.json": JSON.stringify(plan), file: check };
  const key = JSON.stringify([files, options]);
  const found = done.get(key) ?? run(["diagnose", "plan.json", "file", ...options], files);
  done.set(key, found);
  return found;
}

/** The JSON of a diagnosis that is expected to succeed. */
export async function asJson(plan: unknown, check: string, ...options: string[]): Promise<Diagnosis> {
  const { code, out } = await diagnosed(plan, check, "--json", ...options);
  expect(code).toBe(0);
  return JSON.parse(out) as Diagnosis;
}

/** A demo wing's plan and check. */
export const demo = (name: DemoName): [unknown, string] => [
  DEMOS[name].plan,
  JSON.stringify(DEMOS[name].check),
];

/** Rear row 15 mm short, one front tab on the left 8 mm shorter than its twin, all brakes 20 mm short. */
export const worn = checkFile(
  readings(({ id, side, row }) =>
    row === "C" ? -15 : row === "brake" ? -20 : id === "A1" && side === "left" ? -8 : 0,
  ),
);
