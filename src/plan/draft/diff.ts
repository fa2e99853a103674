/** What changed between two versions of a plan: for an editor's undo, and for "what did I change since". */
import { type Anchor, type Line, SIDES, type Side, type Tab, type Wing } from "../model.ts";

export type ChangeSubject =
  | "wing"
  | "canopy"
  | "reference"
  | "tolerance"
  | "material"
  | "riser"
  | "maillon"
  | "brakes"
  | "setting"
  | "line"
  | "tab";

/** A plain value as the plan has it, in SI units; undefined where there is none. */
export type Shown = string | number | boolean | undefined;

export interface PlanChange {
  readonly subject: ChangeSubject;
  /** Id of the line, tab, riser …; empty for the wing as a whole. */
  readonly id: string;
  /** Where lines and tabs are concerned; "both" where the same changed on both sides. */
  readonly side: Side | "both" | undefined;
  /** Field of the model that changed (`lengthM`, `hangsOn`); "added" or "removed" where the whole thing did. */
  readonly field: string;
  readonly before: Shown;
  readonly after: Shown;
  readonly sentence: string;
}

interface Field<T> {
  readonly field: string;
  readonly name: string;
  readonly of: (one: T) => Shown;
  readonly unit?: "mm" | "kN" | "g/m" | "N" | "m" | "m²" | "%" | "kg";
}

const SCALE: Readonly<Record<NonNullable<Field<unknown>["unit"]>, number>> = {
  mm: 1000,
  kN: 0.001,
  "g/m": 1000,
  N: 1,
  m: 1,
  "m²": 1,
  "%": 100,
  kg: 1,
};

const anchorText = (anchor: Anchor): string =>
  anchor.kind === "pulley"
    ? "the pulley"
    : anchor.kind === "maillon"
      ? `maillon ${anchor.maillonId}`
      : `line ${anchor.lineKey.replace(/^(left|right):/u, "")}`;
const bare = (key: string): string => key.replace(/^(left|right):/u, "");

const LINE_FIELDS: readonly Field<Line>[] = [
  // A length that is inferred isn't the plan's: none is stated then.
  {
    field: "lengthM",
    name: "length",
    of: (line) => (line.lengthAssumed ? undefined : line.lengthM),
    unit: "mm",
  },
  { field: "materialId", name: "material", of: (line) => line.materialId },
  { field: "hangsOn", name: "lower end", of: (line) => anchorText(line.hangsOn) },
  { field: "row", name: "row", of: (line) => line.row },
  { field: "tier", name: "tier", of: (line) => line.tier },
  { field: "loopTakeUpM", name: "loop take-up", of: (line) => line.loopTakeUpM, unit: "mm" },
  { field: "loopName", name: "loop", of: (line) => line.loopName },
  { field: "colour", name: "colour", of: (line) => line.colour },
];
const TAB_FIELDS: readonly Field<Tab>[] = [
  { field: "lineKey", name: "line", of: (tab) => bare(tab.lineKey) },
  { field: "rib", name: "rib", of: (tab) => tab.rib },
  { field: "row", name: "row", of: (tab) => tab.row },
  { field: "chordFraction", name: "place along the chord", of: (tab) => tab.chordFraction, unit: "%" },
  { field: "statedPathM", name: "stated total", of: (tab) => tab.statedPathM, unit: "mm" },
];

const WING_FIELDS: readonly Field<Wing>[] = [
  { field: "name", name: "name", of: (wing) => wing.name },
  { field: "size", name: "size", of: (wing) => wing.size },
  { field: "kind", name: "kind", of: (wing) => wing.kind },
  { field: "note", name: "note", of: (wing) => wing.note },
  {
    field: "allUpWeightKg.min",
    name: "lowest all-up weight",
    of: (wing) => wing.allUpWeightKg.min,
    unit: "kg",
  },
  {
    field: "allUpWeightKg.max",
    name: "highest all-up weight",
    of: (wing) => wing.allUpWeightKg.max,
    unit: "kg",
  },
];
const CANOPY_FIELDS: readonly Field<Wing>[] = [
  { field: "flatAreaM2", name: "flat area", of: (wing) => wing.canopy.flatAreaM2, unit: "m²" },
  { field: "flatSpanM", name: "flat span", of: (wing) => wing.canopy.flatSpanM, unit: "m" },
  { field: "projectedSpanM", name: "projected span", of: (wing) => wing.canopy.projectedSpanM, unit: "m" },
  { field: "projectedAreaM2", name: "projected area", of: (wing) => wing.canopy.projectedAreaM2, unit: "m²" },
  { field: "cells", name: "cells", of: (wing) => wing.canopy.cells },
  { field: "rootChordM", name: "root chord", of: (wing) => wing.canopy.rootChordM, unit: "m" },
  { field: "tipChordM", name: "tip chord", of: (wing) => wing.canopy.tipChordM, unit: "m" },
  {
    field: "carabinerSpacingM",
    name: "distance of the carabiners",
    of: (wing) => wing.canopy.carabinerSpacingM,
    unit: "m",
  },
  ...(["A", "B", "C", "D", "tip", "brake"] as const).map(
    (row): Field<Wing> => ({
      field: `rowChordFractions.${row}`,
      name: `place of row ${row} along the chord`,
      of: (wing) => wing.canopy.rowChordFractions[row],
      unit: "%",
    }),
  ),
];
const REFERENCE_FIELDS: readonly Field<Wing>[] = [
  { field: "from", name: "beginning of totals", of: (wing) => `the ${wing.reference.from}` },
  { field: "tensionN", name: "reference tension", of: (wing) => wing.reference.tensionN, unit: "N" },
  { field: "trimmerM", name: "trimmer setting", of: (wing) => wing.reference.trimmerM, unit: "mm" },
  { field: "note", name: "note on the reference", of: (wing) => wing.reference.note },
];
const TOLERANCE_FIELDS: readonly Field<Wing>[] = [
  { field: "pathM", name: "limit of totals", of: (wing) => wing.tolerances.pathM, unit: "mm" },
  {
    field: "leftRightM",
    name: "limit left against right",
    of: (wing) => wing.tolerances.leftRightM,
    unit: "mm",
  },
  { field: "rowToRowM", name: "limit between rows", of: (wing) => wing.tolerances.rowToRowM, unit: "mm" },
  {
    field: "minBrakeFreeTravelM",
    name: "least free travel of the brakes",
    of: (wing) => wing.tolerances.minBrakeFreeTravelM,
    unit: "mm",
  },
  { field: "source", name: "source of the limits", of: (wing) => wing.tolerances.source },
];
const BRAKE_FIELDS: readonly Field<Wing>[] = [
  { field: "pulleyRiserId", name: "riser with the pulley", of: (wing) => wing.brakes?.pulleyRiserId },
  {
    field: "pulleyHeightM",
    name: "height of the pulley",
    of: (wing) => wing.brakes?.pulleyHeightM,
    unit: "mm",
  },
  {
    field: "freeTravelM",
    name: "free travel of the brakes",
    of: (wing) => wing.brakes?.freeTravelM,
    unit: "mm",
  },
];

/** A value in its unit, cut to what a person reads. */
function words(value: Shown, unit: Field<unknown>["unit"]): string {
  if (value === undefined) return "none";
  if (typeof value !== "number") return String(value);
  const figure = Number((value * (unit === undefined ? 1 : SCALE[unit])).toFixed(unit === "mm" ? 1 : 3));
  return unit === undefined ? String(figure) : `${figure} ${unit}`;
}

function sentenceOf(
  who: string,
  name: string,
  before: Shown,
  after: Shown,
  unit: Field<unknown>["unit"],
): string {
  const was = words(before, unit);
  const is = words(after, unit);
  const delta =
    unit === "mm" && typeof before === "number" && typeof after === "number"
      ? ` (${after > before ? "+" : "−"}${Number(Math.abs(1000 * (after - before)).toFixed(1))} mm)`
      : "";
  return `${who}: ${name} ${was} → ${is}${delta}.`;
}

/** Numbers that differ by no more than the file's rounding are the same. */
function same(a: Shown, b: Shown): boolean {
  if (typeof a === "number" && typeof b === "number")
    return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
  return a === b;
}

function compare<T>(
  subject: ChangeSubject,
  id: string,
  who: string,
  before: T,
  after: T,
  fields: readonly Field<T>[],
  side: PlanChange["side"] = undefined,
): readonly PlanChange[] {
  return fields.flatMap(({ field, name, of, unit }) => {
    const [was, is] = [of(before), of(after)];
    if (same(was, is)) return [];
    return [
      { subject, id, side, field, before: was, after: is, sentence: sentenceOf(who, name, was, is, unit) },
    ];
  });
}

/** Things with an id: removed, added, then changed, each in the order of its list. */
function compareLists<T extends { readonly id: string }>(
  subject: ChangeSubject,
  before: readonly T[],
  after: readonly T[],
  fields: readonly Field<T>[],
  told: (one: T) => string,
  side: PlanChange["side"] = undefined,
): readonly PlanChange[] {
  const was = new Map(before.map((one) => [one.id, one]));
  const is = new Map(after.map((one) => [one.id, one]));
  const title = (id: string): string => `${subject[0]?.toUpperCase()}${subject.slice(1)} ${id}`;
  const whole = (one: T, field: "added" | "removed"): PlanChange => ({
    subject,
    id: one.id,
    side,
    field,
    before: field === "removed" ? told(one) : undefined,
    after: field === "added" ? told(one) : undefined,
    sentence: `${title(one.id)} ${field}: ${told(one)}.`,
  });
  return [
    ...before.filter((one) => !is.has(one.id)).map((one) => whole(one, "removed")),
    ...after.filter((one) => !was.has(one.id)).map((one) => whole(one, "added")),
    ...after.flatMap((one) => {
      const old = was.get(one.id);
      return old === undefined ? [] : compare(subject, one.id, title(one.id), old, one, fields, side);
    }),
  ];
}

/**
 * What changed from one version of a plan to the next, as data with a short sentence each: the wing, its risers, materials and
 * limits first, then lines and tabs; what changed alike on both sides once. Lines and tabs are known by their ids: one that was
 * renamed is removed and added. Equal plans give an empty list.
 */
export function planDiff(before: Wing, after: Wing): readonly PlanChange[] {
  const settingText = (changes: Readonly<Record<string, number>>): string =>
    Object.keys(changes)
      .sort()
      .map((riser) => `${riser} ${words(changes[riser], "mm")}`)
      .join(", ");
  const brakesWord = (wing: Wing): Shown => (wing.brakes === undefined ? undefined : "described");
  const brakes: readonly PlanChange[] =
    (before.brakes === undefined) === (after.brakes === undefined)
      ? compare("brakes", "", "Brakes", before, after, BRAKE_FIELDS)
      : compare("brakes", "", "Brakes", before, after, [
          {
            field: after.brakes === undefined ? "removed" : "added",
            name: "pulley and free travel",
            of: brakesWord,
          },
        ]);
  return [
    ...compare("wing", "", "Wing", before, after, WING_FIELDS),
    ...compare("canopy", "", "Canopy", before, after, CANOPY_FIELDS),
    ...compare("reference", "", "Reference", before, after, REFERENCE_FIELDS),
    ...compare("tolerance", "", "Limits", before, after, TOLERANCE_FIELDS),
    ...compareLists(
      "material",
      before.materials,
      after.materials,
      [
        { field: "diameterM", name: "diameter", of: (one) => one.diameterM, unit: "mm" },
        { field: "fibre", name: "fibre", of: (one) => one.fibre },
        { field: "stiffnessN", name: "stiffness", of: (one) => one.stiffnessN, unit: "kN" },
        {
          field: "stiffnessAssumed",
          name: "stiffness assumed",
          of: (one) => (one.stiffnessAssumed ? "yes" : "no"),
        },
        {
          field: "massPerLengthKgM",
          name: "mass per length",
          of: (one) => one.massPerLengthKgM,
          unit: "g/m",
        },
        { field: "breakingForceN", name: "breaking force", of: (one) => one.breakingForceN, unit: "N" },
      ],
      (one) => words(one.diameterM, "mm"),
    ),
    ...compareLists(
      "riser",
      before.risers,
      after.risers,
      [{ field: "lengthM", name: "length", of: (one) => one.lengthM, unit: "mm" }],
      (one) => words(one.lengthM, "mm"),
    ),
    ...compareLists(
      "maillon",
      before.maillons,
      after.maillons,
      [
        { field: "riserId", name: "riser", of: (one) => one.riserId },
        { field: "barDiameterM", name: "bar", of: (one) => one.barDiameterM, unit: "mm" },
      ],
      (one) => `on riser ${one.riserId}`,
    ),
    ...brakes,
    ...compareLists(
      "setting",
      before.settings,
      after.settings,
      [
        { field: "name", name: "name", of: (one) => one.name },
        { field: "kind", name: "kind", of: (one) => one.kind },
        { field: "strapChangesM", name: "straps", of: (one) => settingText(one.strapChangesM) },
      ],
      (one) => one.name,
    ),
    ...bothSides((side) =>
      compareLists(
        "line",
        before.lines.filter((line) => line.side === side),
        after.lines.filter((line) => line.side === side),
        LINE_FIELDS,
        (line) =>
          `row ${line.row}, on ${anchorText(line.hangsOn)}${line.lengthAssumed ? "" : `, ${words(line.lengthM, "mm")}`}`,
        side,
      ),
    ),
    ...bothSides((side) =>
      compareLists(
        "tab",
        before.tabs.filter((tab) => tab.side === side),
        after.tabs.filter((tab) => tab.side === side),
        TAB_FIELDS,
        (tab) => `row ${tab.row}, rib ${tab.rib}, at the end of line ${bare(tab.lineKey)}`,
        side,
      ),
    ),
  ];
}

/** Changes of each side; those that are the same on both are told once, the others with their side. */
function bothSides(of: (side: Side) => readonly PlanChange[]): readonly PlanChange[] {
  const key = ({ id, field, before, after }: PlanChange): string =>
    JSON.stringify([id, field, before, after]);
  const [left, right] = SIDES.map(of) as [readonly PlanChange[], readonly PlanChange[]];
  const onLeft = new Set(left.map(key));
  const onRight = new Set(right.map(key));
  const sided = (change: PlanChange): PlanChange => ({
    ...change,
    sentence: `${change.side === "left" ? "Left" : "Right"} ${change.sentence[0]?.toLowerCase()}${change.sentence.slice(1)}`,
  });
  return [
    ...left.map(
      (change): PlanChange => (onRight.has(key(change)) ? { ...change, side: "both" } : sided(change)),
    ),
    ...right.filter((change) => !onLeft.has(key(change))).map(sided),
  ];
}
