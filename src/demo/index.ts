/** Two invented wings with a plan and a check each, and work done on one of them, made on demand: nothing to fetch. */
import { type PlanFile, parsePlan } from "../plan/index.ts";
import { type CheckFile, parseCheck, writeReadingsCsv } from "../readings/index.ts";
import type { LoopBookFile } from "../workshop/index.ts";
import { LIGHT_CHECK, SCHOOL_CHECK } from "./checks.ts";
import { LIGHT_WING } from "./light-wing.ts";
import { makeCheck } from "./make-check.ts";
import { makeWing } from "./make-plan.ts";
import { type DemoWork, makeWork } from "./make-work.ts";
import { SCHOOL_WING } from "./school-wing.ts";
import { SCHOOL_LOOPS, SCHOOL_WORK } from "./work.ts";

export type { CheckSpec } from "./make-check.ts";
export { makeCheck } from "./make-check.ts";
export { makeWing } from "./make-plan.ts";
export type { DemoWork, WorkSpec } from "./make-work.ts";
export type { WingSpec } from "./wing-spec.ts";

export interface DemoWing {
  /** Begins the names of its files. */
  readonly id: string;
  readonly plan: PlanFile;
  readonly check: CheckFile;
  /** What the bench has kept of its loops; undefined where nothing was. */
  readonly loops: LoopBookFile | undefined;
}

/** A four-row paramotor school wing in the plan's trim, and its check after three damp seasons: much to find. */
export function schoolWing(): DemoWing {
  const plan = makeWing(SCHOOL_WING);
  return { id: "tidewrack-28", plan, check: makeCheck(plan, SCHOOL_CHECK), loops: SCHOOL_LOOPS };
}

/** A three-row light wing whose check is within ±3 mm: nothing to find. */
export function lightWing(): DemoWing {
  const plan = makeWing(LIGHT_WING);
  return { id: "thistledrift-22", plan, check: makeCheck(plan, LIGHT_CHECK), loops: undefined };
}

const made = new Map<DemoName, DemoWing>();

function once(name: DemoName, make: () => DemoWing): DemoWing {
  const wing = made.get(name) ?? make();
  made.set(name, wing);
  return wing;
}

export type DemoName = "school" | "second";

/** Both wings by name, each made when it is first asked for and then kept. */
export const DEMOS: Readonly<Record<DemoName, DemoWing>> = {
  get school() {
    return once("school", schoolWing);
  },
  get second() {
    return once("second", lightWing);
  },
};

let schoolWork: DemoWork | undefined;

/**
 * What was done to a wing after its check, and the check after that; undefined for the second wing, which needs nothing. Made
 * when it is first asked for: it takes a loop plan, some 30 ms.
 */
export const DEMO_WORK: Readonly<Record<DemoName, DemoWork | undefined>> = {
  get school() {
    const { plan, check } = DEMOS.school;
    schoolWork ??= makeWork(plan, check, SCHOOL_LOOPS, SCHOOL_WORK);
    return schoolWork;
  },
  second: undefined,
};

export function demoWings(): DemoWing[] {
  return [DEMOS.school, DEMOS.second];
}

export interface DemoFile {
  readonly name: string;
  readonly text: string;
}

/**
 * The demo's files with their texts: a plan and a check for each wing; and for the school wing its check as a table, its loops,
 * and the check after the work.
 */
export function demoFiles(): DemoFile[] {
  const files = demoWings().flatMap(({ id, plan, check }) => [
    { name: `${id}.plan.json`, text: jsonText(plan) },
    { name: `${id}.check.json`, text: jsonText(check) },
  ]);
  const { school } = DEMOS;
  return [
    ...files,
    { name: `${school.id}.check.csv`, text: csvText(school) },
    { name: `${school.id}.loops.json`, text: jsonText(school.loops) },
    { name: `${school.id}.check-after.json`, text: jsonText(DEMO_WORK.school?.after) },
  ];
}

function csvText({ id, plan, check }: DemoWing): string {
  const wing = parsePlan(plan);
  if (!wing.ok) throw new Error(`The demo plan ${id} is faulty: ${wing.problems[0]?.message}`);
  const read = parseCheck(check, wing.value);
  if (!read.ok) throw new Error(`The demo check ${id} is faulty: ${read.problems[0]?.message}`);
  return writeReadingsCsv(read.value);
}

/** Longest part of a file that stays on one line of text. */
const WIDTH = 240;

/** JSON with a line, tab or reading to a line of text, so that a person can read it and a difference shows where it is. */
function jsonText(value: unknown): string {
  const laidOut = (part: unknown, indent: string): string => {
    const flat = JSON.stringify(part, null, 1)
      .replace(/\s*\n\s*/g, " ")
      .replace(/\[ (?=-?\d)/g, "[")
      .replace(/(?<=\d) \]/g, "]");
    if (typeof part !== "object" || part === null || (indent !== "" && flat.length <= WIDTH)) return flat;
    const inner = `${indent}  `;
    const parts = Array.isArray(part)
      ? part.map((each) => inner + laidOut(each, inner))
      : Object.entries(part).map(([key, each]) => `${inner}${JSON.stringify(key)}: ${laidOut(each, inner)}`);
    const [open, close] = Array.isArray(part) ? ["[", "]"] : ["{", "}"];
    return `${open}\n${parts.join(",\n")}\n${indent}${close}`;
  };
  return `${laidOut(value, "")}\n`;
}
