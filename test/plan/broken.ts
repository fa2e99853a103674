/** Breaking the sample plan in one place, and looking at what is said about it. */
import {
  type PlanFile,
  type PlanHalf,
  type PlanLine,
  type PlanTab,
  type Problem,
  parsePlan,
} from "../../src/plan/index.ts";
import { type FactoryOptions, sampleBothSides, samplePlan } from "./factory.ts";

export type Sample = ReturnType<typeof samplePlan>;

/** Problems of the sample plan after a change. */
export function problemsAfter(
  change: (plan: Sample, half: PlanHalf) => void,
  options?: FactoryOptions,
): readonly Problem[] {
  const plan = samplePlan(options);
  change(plan, plan.sides.mirrored);
  return parsePlan(plan).problems;
}

/** Problems of the sample plan with both sides spelled out, after a change. */
export function problemsOfSides(
  change: (left: PlanHalf, right: PlanHalf, plan: PlanFile) => void,
): readonly Problem[] {
  const plan = sampleBothSides();
  change(plan.sides.left, plan.sides.right, plan);
  return parsePlan(plan).problems;
}

export function line(half: PlanHalf, id: string): PlanLine {
  const found = half.lines.find((one) => one.id === id);
  if (found === undefined) throw new Error(`the sample has no line ${id}`);
  return found;
}

export function tab(half: PlanHalf, id: string): PlanTab {
  const found = half.tabs.find((one) => one.id === id);
  if (found === undefined) throw new Error(`the sample has no tab ${id}`);
  return found;
}

/** Where the sample plan has a line or tab: `sides.mirrored.lines[35]`. */
export function placeOf(list: "lines" | "tabs", id: string, side = "mirrored"): string {
  const half = samplePlan().sides.mirrored;
  return `sides.${side}.${list}[${half[list].findIndex((one) => one.id === id)}]`;
}

export function removeLine(half: PlanHalf, id: string): void {
  half.lines.splice(half.lines.indexOf(line(half, id)), 1);
}

export function removeTab(half: PlanHalf, id: string): void {
  half.tabs.splice(half.tabs.indexOf(tab(half, id)), 1);
}

/** The one problem there is; fails with all of them if there are more or none. */
export function only(problems: readonly Problem[]): Problem {
  const [first, ...rest] = problems;
  if (first === undefined || rest.length > 0) {
    throw new Error(
      `one problem was expected, found ${problems.length}:\n${problems.map((one) => `${one.where}: ${one.message}`).join("\n")}`,
    );
  }
  return first;
}
