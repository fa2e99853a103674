/** Rules of the wing as a whole: weights, canopy, materials, risers, maillons, brakes, rows. */
import { fixed, say } from "../words/index.ts";
import { byId } from "./cascade.ts";
import type { Problem } from "./model.ts";
import { type PlanFile, type PlanHalf, PULLEY } from "./schema.ts";
import { called, didYouMean, type HalfPlace, listed, millimetres, nearest, problem } from "./wording.ts";

const PROFILE_ROWS = ["A", "B", "C", "D"] as const;

function doubles(file: PlanFile): readonly Problem[] {
  const kinds = [
    ["materials", "plan.material.doubled"],
    ["risers", "plan.riser.doubled"],
    ["maillons", "plan.maillon.doubled"],
  ] as const;
  return kinds.flatMap(([list, key]) =>
    byId<{ readonly id: string }>(file[list]).doubles.map(({ id, indices }) =>
      problem(
        "error",
        `${list}[${indices[1]}].id`,
        id,
        say(key, { id, count: indices.length }),
        say("plan.doubled.fix"),
      ),
    ),
  );
}

function wingAndCanopy(file: PlanFile): readonly Problem[] {
  const found: Problem[] = [];
  const { min, max } = file.wing.allUpWeightKg;
  if (min > max) {
    found.push(
      problem(
        "error",
        "wing.allUpWeightKg",
        undefined,
        say("plan.weight", { min, max }),
        say("plan.weight.fix"),
      ),
    );
  }
  const {
    flatAreaM2: area,
    flatSpanM: span,
    projectedAreaM2: flown,
    projectedSpanM: spread,
    rootChordM: root,
    tipChordM: tip,
  } = file.canopy ?? {};
  if (span !== undefined && spread !== undefined && spread > span) {
    found.push(
      problem(
        "error",
        "canopy.projectedSpanM",
        undefined,
        say("plan.span", { projected: spread, flat: span }),
        say("plan.span.fix"),
      ),
    );
  }
  if (area !== undefined && flown !== undefined && flown > area) {
    found.push(
      problem(
        "error",
        "canopy.projectedAreaM2",
        undefined,
        say("plan.area", { projected: flown, flat: area }),
        say("plan.area.fix"),
      ),
    );
  }
  if (root !== undefined && tip !== undefined && tip > root) {
    found.push(
      problem(
        "error",
        "canopy.tipChordM",
        undefined,
        say("plan.taper", { tip, root }),
        say("plan.taper.fix"),
      ),
    );
  }
  if (span !== undefined && area !== undefined) {
    const ratio = span ** 2 / area;
    if (ratio < 2 || ratio > 10) {
      found.push(
        problem(
          "warning",
          "canopy",
          undefined,
          say("plan.aspect", { span, area, ratio: fixed(ratio, 1) }),
          say("plan.aspect.fix"),
        ),
      );
    }
  }
  return found;
}

function risersAndMaillons(file: PlanFile, halves: readonly PlanHalf[]): readonly Problem[] {
  const found: Problem[] = [];
  const riserIds = file.risers.map((riser) => riser.id);
  file.maillons.forEach((maillon, index) => {
    if (maillon.id === PULLEY) {
      found.push(
        problem(
          "error",
          `maillons[${index}].id`,
          PULLEY,
          say("plan.maillon.pulley", { word: PULLEY }),
          say("plan.maillon.pulley.fix"),
        ),
      );
    }
    if (!riserIds.includes(maillon.riser)) {
      found.push(
        problem(
          "error",
          `maillons[${index}].riser`,
          maillon.id,
          say("plan.maillon.riser", { id: maillon.id, riser: maillon.riser, risers: listed(riserIds) }),
          say("plan.maillon.riser.fix", {
            riser: maillon.riser,
            guess: didYouMean(nearest(maillon.riser, riserIds)),
          }),
        ),
      );
    }
  });
  const maillonIds = new Set(file.maillons.map((maillon) => maillon.id));
  const lines = halves.flatMap((half) => half.lines);
  // With a line that hangs on an unknown name, an empty maillon may be what that name meant.
  const names = new Set([...maillonIds, ...lines.map((line) => line.id), PULLEY]);
  if (lines.every((line) => names.has(line.hangsOn))) {
    file.maillons.forEach((maillon, index) => {
      if (lines.some((line) => line.hangsOn === maillon.id) || maillon.id === PULLEY) return;
      found.push(
        problem(
          "warning",
          `maillons[${index}]`,
          maillon.id,
          say("plan.maillon.bare", { id: maillon.id }),
          say("plan.maillon.bare.fix"),
        ),
      );
    });
  }
  return found;
}

function brakes(file: PlanFile, halves: readonly PlanHalf[]): readonly Problem[] {
  const found: Problem[] = [];
  const brakeLine = halves.flatMap((half) => half.lines).find((line) => line.row === "brake");
  const given = file.brakes;
  if (given === undefined) {
    if (brakeLine !== undefined) {
      found.push(
        problem(
          "error",
          "brakes",
          brakeLine.id,
          say("plan.brakes.missing", { id: brakeLine.id }),
          say("plan.brakes.missing.fix"),
        ),
      );
    }
    return found;
  }
  if (brakeLine === undefined) {
    found.push(problem("warning", "brakes", undefined, say("plan.brakes.bare"), say("plan.brakes.bare.fix")));
  }
  const riser = file.risers.find((one) => one.id === given.pulleyRiser);
  if (riser === undefined) {
    const riserIds = file.risers.map((one) => one.id);
    found.push(
      problem(
        "error",
        "brakes.pulleyRiser",
        given.pulleyRiser,
        say("plan.brakes.riser", { riser: given.pulleyRiser, risers: listed(riserIds) }),
        say("plan.brakes.riser.fix", { guess: didYouMean(nearest(given.pulleyRiser, riserIds)) }),
      ),
    );
  } else if (given.pulleyHeightMm > riser.lengthMm) {
    found.push(
      problem(
        "warning",
        "brakes.pulleyHeightMm",
        riser.id,
        say("plan.brakes.height", {
          height: millimetres(given.pulleyHeightMm),
          riser: riser.id,
          length: millimetres(riser.lengthMm),
        }),
        say("plan.brakes.height.fix"),
      ),
    );
  }
  const least = file.tolerances?.minBrakeFreeTravelMm ?? 50;
  if (given.freeTravelMm < least) {
    found.push(
      problem(
        "warning",
        "brakes.freeTravelMm",
        undefined,
        say("plan.brakes.travel", { travel: millimetres(given.freeTravelMm), least: millimetres(least) }),
        say("plan.brakes.travel.fix"),
      ),
    );
  }
  return found;
}

/** Trimmers and speed system: straps that there are, each setting once. */
function settings(file: PlanFile): readonly Problem[] {
  const riserIds = file.risers.map((riser) => riser.id);
  return (file.settings ?? []).flatMap((setting, i, all) => {
    const found: Problem[] = [];
    if (all.findIndex((other) => other.id === setting.id) !== i)
      found.push(
        problem(
          "error",
          `settings[${i}].id`,
          setting.id,
          say("plan.setting.doubled", { id: setting.id }),
          say("plan.setting.doubled.fix"),
        ),
      );
    for (const [riserId, changeMm] of Object.entries(setting.strapChangesMm)) {
      const riser = file.risers.find((one) => one.id === riserId);
      if (riser === undefined)
        found.push(
          problem(
            "error",
            `settings[${i}].strapChangesMm.${riserId}`,
            setting.id,
            say("plan.setting.riser", { id: setting.id, riser: riserId, risers: listed(riserIds) }),
            say("plan.setting.riser.fix", { guess: didYouMean(nearest(riserId, riserIds)) }),
          ),
        );
      else if (riser.lengthMm + changeMm <= 0)
        found.push(
          problem(
            "error",
            `settings[${i}].strapChangesMm.${riserId}`,
            setting.id,
            say("plan.setting.short", {
              id: setting.id,
              riser: riserId,
              change: millimetres(-changeMm),
              length: millimetres(riser.lengthMm),
            }),
            say("plan.setting.short.fix"),
          ),
        );
    }
    return found;
  });
}

function rows(file: PlanFile, halves: readonly PlanHalf[]): readonly Problem[] {
  const present = new Set(halves.flatMap((half) => [...half.lines, ...half.tabs].map((one) => one.row)));
  const there = PROFILE_ROWS.filter((row) => present.has(row));
  const where = "mirrored" in file.sides ? "sides.mirrored.tabs" : "sides";
  if (there.length < 2) {
    return [
      problem(
        "error",
        where,
        there[0],
        say("plan.rows.few", { row: there[0] ?? "none" }),
        say("plan.rows.few.fix"),
      ),
    ];
  }
  const missing = PROFILE_ROWS.slice(0, PROFILE_ROWS.indexOf(there[there.length - 1] ?? "A")).filter(
    (row) => !present.has(row),
  );
  if (missing.length === 0) return [];
  return [
    problem(
      "error",
      where,
      missing[0],
      say("plan.rows.gap", {
        rows: listed(there),
        missing: missing[0] ?? "",
        second: missing[1] ?? "none",
      }),
      say("plan.rows.gap.fix"),
    ),
  ];
}

/** Lines whose material the plan doesn't have: one problem for each name, with all the lines that use it. */
export function materialProblems(file: PlanFile, half: PlanHalf, place: HalfPlace): readonly Problem[] {
  const known = file.materials.map((material) => material.id);
  const users = new Map<string, number[]>();
  half.lines.forEach((line, index) => {
    if (!known.includes(line.material))
      users.set(line.material, [...(users.get(line.material) ?? []), index]);
  });
  return [...users].map(([name, indices]) => {
    const ids = indices.map((index) => half.lines[index]?.id ?? "");
    const first = ids[0] ?? "";
    const who =
      ids.length === 1
        ? called(place, "line", first)
        : `${called(place, "line", first)} (also ${listed(ids.slice(1))})`;
    return problem(
      "error",
      `${place.where}.lines[${indices[0]}].material`,
      first,
      say("plan.line.material", { name: who, material: name, known: listed(known) }),
      say("plan.line.material.fix", { material: name, guess: didYouMean(nearest(name, known)) }),
    );
  });
}

/** All problems that concern the wing as a whole. */
export function partsProblems(file: PlanFile, halves: readonly PlanHalf[]): readonly Problem[] {
  return [
    ...wingAndCanopy(file),
    ...doubles(file),
    ...risersAndMaillons(file, halves),
    ...brakes(file, halves),
    ...settings(file),
    ...rows(file, halves),
  ];
}
