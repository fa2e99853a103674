/** Rules of the wing as a whole: weights, canopy, materials, risers, maillons, brakes, rows. */
import { byId } from "./cascade.ts";
import type { Problem } from "./model.ts";
import { type PlanFile, type PlanHalf, PULLEY } from "./schema.ts";
import { called, didYouMean, type HalfPlace, listed, millimetres, nearest, problem } from "./wording.ts";

const PROFILE_ROWS = ["A", "B", "C", "D"] as const;

function doubles(file: PlanFile): readonly Problem[] {
  const kinds = [
    ["materials", "material"],
    ["risers", "riser"],
    ["maillons", "maillon"],
  ] as const;
  return kinds.flatMap(([list, kind]) =>
    byId<{ readonly id: string }>(file[list]).doubles.map(({ id, indices }) =>
      problem(
        "error",
        `${list}[${indices[1]}].id`,
        id,
        `The ${kind} ${id} is given ${indices.length} times; an id stands for one ${kind}.`,
        "Rename or remove all but one of them.",
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
        `The all-up weight runs from ${min} kg to ${max} kg; the lower figure was expected first.`,
        "Swap min and max, or correct them.",
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
        `The projected span is ${spread} m and the flat span ${span} m; an arched wing spans less than a flat one.`,
        "Swap or correct the two spans.",
      ),
    );
  }
  if (area !== undefined && flown !== undefined && flown > area) {
    found.push(
      problem(
        "error",
        "canopy.projectedAreaM2",
        undefined,
        `The projected area is ${flown} m² and the flat area ${area} m²; an arched wing covers less than a flat one.`,
        "Swap or correct the two areas.",
      ),
    );
  }
  if (root !== undefined && tip !== undefined && tip > root) {
    found.push(
      problem(
        "error",
        "canopy.tipChordM",
        undefined,
        `The chord is ${tip} m at the tip and ${root} m in the middle; it was expected to taper.`,
        "Swap or correct the two chords.",
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
          `Flat span ${span} m and flat area ${area} m² make an aspect ratio of ${ratio.toFixed(1)}; 3 to 8 is usual.`,
          "Check both figures and their units.",
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
          `A maillon is called "${PULLEY}", which stands for the brake's pulley.`,
          "Give the maillon another id.",
        ),
      );
    }
    if (!riserIds.includes(maillon.riser)) {
      found.push(
        problem(
          "error",
          `maillons[${index}].riser`,
          maillon.id,
          `Maillon ${maillon.id} sits on riser "${maillon.riser}", which the plan doesn't have; its risers are ${listed(riserIds)}.`,
          `Name one of them, or add riser ${maillon.riser}.${didYouMean(nearest(maillon.riser, riserIds))}`,
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
          `Nothing hangs on maillon ${maillon.id}.`,
          "Remove it, or correct hangsOn of the lines that are on it.",
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
          `The plan has brake lines (${brakeLine.id} and others) but says nothing of the brakes: pulley and free travel were expected.`,
          "Add brakes: pulleyRiser, pulleyHeightMm, freeTravelMm.",
        ),
      );
    }
    return found;
  }
  if (brakeLine === undefined) {
    found.push(
      problem(
        "warning",
        "brakes",
        undefined,
        "The plan describes the brakes but has no brake line.",
        "Add the brake lines, or remove brakes.",
      ),
    );
  }
  const riser = file.risers.find((one) => one.id === given.pulleyRiser);
  if (riser === undefined) {
    const riserIds = file.risers.map((one) => one.id);
    found.push(
      problem(
        "error",
        "brakes.pulleyRiser",
        given.pulleyRiser,
        `The brake pulley is on riser "${given.pulleyRiser}", which the plan doesn't have; its risers are ${listed(riserIds)}.`,
        `Name the riser that carries the pulley.${didYouMean(nearest(given.pulleyRiser, riserIds))}`,
      ),
    );
  } else if (given.pulleyHeightMm > riser.lengthMm) {
    found.push(
      problem(
        "warning",
        "brakes.pulleyHeightMm",
        riser.id,
        `The brake pulley is ${millimetres(given.pulleyHeightMm)} up riser ${riser.id}, which is ${millimetres(riser.lengthMm)} long.`,
        "Check both figures: the height is measured from the carabiner along the strap.",
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
        `The plan gives the brakes ${millimetres(given.freeTravelMm)} of free travel; at least ${millimetres(least)} was expected.`,
        "Check the figure against the maker's manual: a wing without free travel is braked with hands up.",
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
          `Setting "${setting.id}" is there twice.`,
          "Give each setting an id of its own.",
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
            `Setting "${setting.id}" changes riser "${riserId}", which the plan doesn't have; its risers are ${listed(riserIds)}.`,
            `Name a riser of the plan.${didYouMean(nearest(riserId, riserIds))}`,
          ),
        );
      else if (riser.lengthMm + changeMm <= 0)
        found.push(
          problem(
            "error",
            `settings[${i}].strapChangesMm.${riserId}`,
            setting.id,
            `Setting "${setting.id}" shortens riser ${riserId} by ${millimetres(-changeMm)}, but the strap is ${millimetres(riser.lengthMm)} long.`,
            "Check both figures.",
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
        `The plan has ${there.length === 0 ? "none of the rows A to D" : `row ${there[0]} only`}; two to four rows were expected.`,
        "Add the other rows, or correct the rows of the lines and tabs.",
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
      `The plan has the rows ${listed(there)}, but no row ${missing.join(" and no row ")}; rows follow each other from A.`,
      "Add what is missing, or name the rows in order from the front.",
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
      `${who} is of material "${name}", which the plan doesn't have; its materials are ${listed(known)}.`,
      `Name one of them, or add material ${name}.${didYouMean(nearest(name, known))}`,
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
