/**
 * What the fields of a plan file must mean together. Every problem names the line or tab and says what to do;
 * all of them are collected, and what merely follows from another one isn't repeated.
 */
import { cascadeOf } from "./cascade.ts";
import { assumedWarning, type CompletedHalf, completePlan } from "./infer-lengths.ts";
import type { Problem } from "./model.ts";
import type { PlanHalf, SparsePlanFile } from "./schema.ts";
import { cascadeProblems } from "./validate-cascade.ts";
import { lengthProblems } from "./validate-lengths.ts";
import { materialProblems, partsProblems } from "./validate-parts.ts";
import { ribProblems, rowFractionProblems } from "./validate-ribs.ts";
import { rowAndLoopProblems } from "./validate-rows.ts";
import { sideProblems } from "./validate-sides.ts";
import type { HalfPlace } from "./wording.ts";

/**
 * Problems of a plan file whose shape is sound (see `planFileSchema`), errors first. Without an error among them
 * the wing can be built. Never throws.
 */
export function validatePlan(given: SparsePlanFile): readonly Problem[] {
  const completed = completePlan(given);
  const { file } = completed;
  const maillonIds = new Set(file.maillons.map((maillon) => maillon.id));
  const ofHalf = (half: PlanHalf, place: HalfPlace): readonly Problem[] => {
    const cascade = cascadeOf(half, maillonIds);
    const { assumed, problems: inferring } = completed.halves.get(place.where) as CompletedHalf;
    const hanging = [
      ...cascadeProblems(place, half, cascade, maillonIds),
      ...rowAndLoopProblems(place, cascade),
    ];
    return [
      ...hanging,
      ...materialProblems(file, half, place),
      ...inferring,
      ...lengthProblems(place, file, cascade, faulty(hanging, "lines"), assumed),
      ...ribProblems(place, cascade, file),
    ];
  };

  const problems: Problem[] = [];
  if ("mirrored" in file.sides) {
    const half = file.sides.mirrored;
    problems.push(...partsProblems(file, [half]), ...rowFractionProblems(file));
    problems.push(...ofHalf(half, { where: "sides.mirrored", side: undefined }));
  } else {
    const { left, right } = file.sides;
    const inHalves = [
      ...ofHalf(left, { where: "sides.left", side: "left" }),
      ...ofHalf(right, { where: "sides.right", side: "right" }),
    ];
    const apart = sideProblems({
      left: cascadeOf(left, maillonIds),
      right: cascadeOf(right, maillonIds),
      assumed: new Set([...completed.halves.values()].flatMap((half) => [...half.assumed])),
    });
    const lines = faulty(inHalves, "lines");
    const tabs = faulty(inHalves, "tabs");
    // That a line in error differs from its partner follows from the error.
    const news = apart.filter(
      ({ where, subject = "" }) => !(where.includes(".lines[") ? lines : tabs).has(subject),
    );
    problems.push(...partsProblems(file, [left, right]), ...rowFractionProblems(file), ...inHalves, ...news);
  }
  problems.push(...assumedWarning(completed));
  const errors = problems.filter((problem) => problem.severity === "error");
  return [...errors, ...problems.filter((problem) => problem.severity === "warning")];
}

/** Ids of the lines or tabs that have an error. */
function faulty(problems: readonly Problem[], list: "lines" | "tabs"): ReadonlySet<string> {
  const errors = problems.filter(
    ({ severity, where }) => severity === "error" && where.includes(`.${list}[`),
  );
  return new Set(errors.map(({ subject }) => subject ?? ""));
}
