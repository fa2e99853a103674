/** What changed between two versions of a plan: for an editor's undo, and for "what did I change since". */
import { type Key, say, trimmed, typedLength } from "../../words/index.ts";
import { type Anchor, type Line, type Row, SIDES, type Side, type Tab, type Wing } from "../model.ts";

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
  readonly name: Key;
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
  say("draft.diff.anchor", {
    kind: anchor.kind,
    id:
      anchor.kind === "pulley"
        ? ""
        : anchor.kind === "maillon"
          ? anchor.maillonId
          : anchor.lineKey.replace(/^(left|right):/u, ""),
  });
const bare = (key: string): string => key.replace(/^(left|right):/u, "");

const LINE_FIELDS: readonly Field<Line>[] = [
  // A length that is inferred isn't the plan's: none is stated then.
  {
    field: "lengthM",
    name: "draft.diff.field.length",
    of: (line) => (line.lengthAssumed ? undefined : line.lengthM),
    unit: "mm",
  },
  { field: "materialId", name: "draft.diff.field.material", of: (line) => line.materialId },
  { field: "hangsOn", name: "draft.diff.field.lower-end", of: (line) => anchorText(line.hangsOn) },
  { field: "row", name: "draft.diff.field.row", of: (line) => line.row },
  { field: "tier", name: "draft.diff.field.tier", of: (line) => line.tier },
  { field: "loopTakeUpM", name: "draft.diff.field.loop-take-up", of: (line) => line.loopTakeUpM, unit: "mm" },
  { field: "loopName", name: "draft.diff.field.loop", of: (line) => line.loopName },
  { field: "colour", name: "draft.diff.field.colour", of: (line) => line.colour },
];
const TAB_FIELDS: readonly Field<Tab>[] = [
  { field: "lineKey", name: "draft.diff.field.line", of: (tab) => bare(tab.lineKey) },
  { field: "rib", name: "draft.diff.field.rib", of: (tab) => tab.rib },
  { field: "row", name: "draft.diff.field.row", of: (tab) => tab.row },
  {
    field: "chordFraction",
    name: "draft.diff.field.place-along-the-chord",
    of: (tab) => tab.chordFraction,
    unit: "%",
  },
  { field: "statedPathM", name: "draft.diff.field.stated-total", of: (tab) => tab.statedPathM, unit: "mm" },
];

const WING_FIELDS: readonly Field<Wing>[] = [
  { field: "name", name: "draft.diff.field.name", of: (wing) => wing.name },
  { field: "size", name: "draft.diff.field.size", of: (wing) => wing.size },
  { field: "kind", name: "draft.diff.field.kind", of: (wing) => wing.kind },
  { field: "note", name: "draft.diff.field.note", of: (wing) => wing.note },
  {
    field: "allUpWeightKg.min",
    name: "draft.diff.field.lowest-all-up-weight",
    of: (wing) => wing.allUpWeightKg.min,
    unit: "kg",
  },
  {
    field: "allUpWeightKg.max",
    name: "draft.diff.field.highest-all-up-weight",
    of: (wing) => wing.allUpWeightKg.max,
    unit: "kg",
  },
];
const CHORD_NAMES: Readonly<Record<Row, Key>> = {
  A: "draft.diff.field.chord-a",
  B: "draft.diff.field.chord-b",
  C: "draft.diff.field.chord-c",
  D: "draft.diff.field.chord-d",
  tip: "draft.diff.field.chord-tip",
  brake: "draft.diff.field.chord-brake",
};
const CANOPY_FIELDS: readonly Field<Wing>[] = [
  {
    field: "flatAreaM2",
    name: "draft.diff.field.flat-area",
    of: (wing) => wing.canopy.flatAreaM2,
    unit: "m²",
  },
  { field: "flatSpanM", name: "draft.diff.field.flat-span", of: (wing) => wing.canopy.flatSpanM, unit: "m" },
  {
    field: "projectedSpanM",
    name: "draft.diff.field.projected-span",
    of: (wing) => wing.canopy.projectedSpanM,
    unit: "m",
  },
  {
    field: "projectedAreaM2",
    name: "draft.diff.field.projected-area",
    of: (wing) => wing.canopy.projectedAreaM2,
    unit: "m²",
  },
  { field: "cells", name: "draft.diff.field.cells", of: (wing) => wing.canopy.cells },
  {
    field: "rootChordM",
    name: "draft.diff.field.root-chord",
    of: (wing) => wing.canopy.rootChordM,
    unit: "m",
  },
  { field: "tipChordM", name: "draft.diff.field.tip-chord", of: (wing) => wing.canopy.tipChordM, unit: "m" },
  {
    field: "carabinerSpacingM",
    name: "draft.diff.field.distance-of-the-carabiners",
    of: (wing) => wing.canopy.carabinerSpacingM,
    unit: "m",
  },
  ...(["A", "B", "C", "D", "tip", "brake"] as const).map(
    (row): Field<Wing> => ({
      field: `rowChordFractions.${row}`,
      name: CHORD_NAMES[row],
      of: (wing) => wing.canopy.rowChordFractions[row],
      unit: "%",
    }),
  ),
];
const REFERENCE_FIELDS: readonly Field<Wing>[] = [
  {
    field: "from",
    name: "draft.diff.field.beginning-of-totals",
    of: (wing) => say("draft.diff.from", { from: wing.reference.from }),
  },
  {
    field: "tensionN",
    name: "draft.diff.field.reference-tension",
    of: (wing) => wing.reference.tensionN,
    unit: "N",
  },
  {
    field: "trimmerM",
    name: "draft.diff.field.trimmer-setting",
    of: (wing) => wing.reference.trimmerM,
    unit: "mm",
  },
  { field: "note", name: "draft.diff.field.note-on-the-reference", of: (wing) => wing.reference.note },
];
const TOLERANCE_FIELDS: readonly Field<Wing>[] = [
  {
    field: "pathM",
    name: "draft.diff.field.limit-of-totals",
    of: (wing) => wing.tolerances.pathM,
    unit: "mm",
  },
  {
    field: "leftRightM",
    name: "draft.diff.field.limit-left-against-right",
    of: (wing) => wing.tolerances.leftRightM,
    unit: "mm",
  },
  {
    field: "rowToRowM",
    name: "draft.diff.field.limit-between-rows",
    of: (wing) => wing.tolerances.rowToRowM,
    unit: "mm",
  },
  {
    field: "minBrakeFreeTravelM",
    name: "draft.diff.field.least-free-travel-of-the-brakes",
    of: (wing) => wing.tolerances.minBrakeFreeTravelM,
    unit: "mm",
  },
  { field: "source", name: "draft.diff.field.source-of-the-limits", of: (wing) => wing.tolerances.source },
];
const BRAKE_FIELDS: readonly Field<Wing>[] = [
  {
    field: "pulleyRiserId",
    name: "draft.diff.field.riser-with-the-pulley",
    of: (wing) => wing.brakes?.pulleyRiserId,
  },
  {
    field: "pulleyHeightM",
    name: "draft.diff.field.height-of-the-pulley",
    of: (wing) => wing.brakes?.pulleyHeightM,
    unit: "mm",
  },
  {
    field: "freeTravelM",
    name: "draft.diff.field.free-travel-of-the-brakes",
    of: (wing) => wing.brakes?.freeTravelM,
    unit: "mm",
  },
];

/** A value in its unit, cut to what a person reads. */
function words(value: Shown, unit: Field<unknown>["unit"]): string {
  if (value === undefined) return say("draft.diff.none");
  if (typeof value !== "number") return String(value);
  if (unit === "mm") return typedLength(value);
  const figure = trimmed(value * (unit === undefined ? 1 : SCALE[unit]), 3);
  return unit === undefined ? figure : `${figure} ${unit}`;
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
  if (unit !== "mm" || typeof before !== "number" || typeof after !== "number")
    return say("draft.diff.changed", { who, name, was, is });
  const delta = `${after > before ? "+" : "−"}${typedLength(Math.abs(after - before))}`;
  return say("draft.diff.changed-by", { who, name, was, is, delta });
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
      {
        subject,
        id,
        side,
        field,
        before: was,
        after: is,
        sentence: sentenceOf(who, say(name), was, is, unit),
      },
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
  named: PlanChange["side"] = undefined,
): readonly PlanChange[] {
  const was = new Map(before.map((one) => [one.id, one]));
  const is = new Map(after.map((one) => [one.id, one]));
  const title = (id: string): string => say("draft.diff.thing", { subject, id, side: named ?? "none" });
  const whole = (one: T, field: "added" | "removed"): PlanChange => ({
    subject,
    id: one.id,
    side,
    field,
    before: field === "removed" ? told(one) : undefined,
    after: field === "added" ? told(one) : undefined,
    sentence: say("draft.diff.whole", { who: title(one.id), field, what: told(one) }),
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
  const brakesWord = (wing: Wing): Shown =>
    wing.brakes === undefined ? undefined : say("draft.diff.described");
  const brakes: readonly PlanChange[] =
    (before.brakes === undefined) === (after.brakes === undefined)
      ? compare("brakes", "", say("draft.diff.brakes"), before, after, BRAKE_FIELDS)
      : compare("brakes", "", say("draft.diff.brakes"), before, after, [
          {
            field: after.brakes === undefined ? "removed" : "added",
            name: "draft.diff.field.pulley-and-free-travel",
            of: brakesWord,
          },
        ]);
  return [
    ...compare("wing", "", say("draft.diff.wing"), before, after, WING_FIELDS),
    ...compare("canopy", "", say("draft.diff.canopy"), before, after, CANOPY_FIELDS),
    ...compare("reference", "", say("draft.diff.reference"), before, after, REFERENCE_FIELDS),
    ...compare("tolerance", "", say("draft.diff.limits"), before, after, TOLERANCE_FIELDS),
    ...compareLists(
      "material",
      before.materials,
      after.materials,
      [
        { field: "diameterM", name: "draft.diff.field.diameter", of: (one) => one.diameterM, unit: "mm" },
        { field: "fibre", name: "draft.diff.field.fibre", of: (one) => one.fibre },
        { field: "stiffnessN", name: "draft.diff.field.stiffness", of: (one) => one.stiffnessN, unit: "kN" },
        {
          field: "stiffnessAssumed",
          name: "draft.diff.field.stiffness-assumed",
          of: (one) => say(one.stiffnessAssumed ? "draft.diff.yes" : "draft.diff.no"),
        },
        {
          field: "massPerLengthKgM",
          name: "draft.diff.field.mass-per-length",
          of: (one) => one.massPerLengthKgM,
          unit: "g/m",
        },
        {
          field: "breakingForceN",
          name: "draft.diff.field.breaking-force",
          of: (one) => one.breakingForceN,
          unit: "N",
        },
      ],
      (one) => words(one.diameterM, "mm"),
    ),
    ...compareLists(
      "riser",
      before.risers,
      after.risers,
      [{ field: "lengthM", name: "draft.diff.field.length", of: (one) => one.lengthM, unit: "mm" }],
      (one) => words(one.lengthM, "mm"),
    ),
    ...compareLists(
      "maillon",
      before.maillons,
      after.maillons,
      [
        { field: "riserId", name: "draft.diff.field.riser", of: (one) => one.riserId },
        { field: "barDiameterM", name: "draft.diff.field.bar", of: (one) => one.barDiameterM, unit: "mm" },
      ],
      (one) => say("draft.diff.on-riser", { riser: one.riserId }),
    ),
    ...brakes,
    ...compareLists(
      "setting",
      before.settings,
      after.settings,
      [
        { field: "name", name: "draft.diff.field.name", of: (one) => one.name },
        { field: "kind", name: "draft.diff.field.kind", of: (one) => one.kind },
        {
          field: "strapChangesM",
          name: "draft.diff.field.straps",
          of: (one) => settingText(one.strapChangesM),
        },
      ],
      (one) => one.name,
    ),
    ...bothSides((side, named) =>
      compareLists(
        "line",
        before.lines.filter((line) => line.side === side),
        after.lines.filter((line) => line.side === side),
        LINE_FIELDS,
        (line) =>
          say("draft.diff.line", {
            row: line.row,
            foot: anchorText(line.hangsOn),
            known: line.lengthAssumed ? "no" : "yes",
            length: words(line.lengthM, "mm"),
          }),
        side,
        named,
      ),
    ),
    ...bothSides((side, named) =>
      compareLists(
        "tab",
        before.tabs.filter((tab) => tab.side === side),
        after.tabs.filter((tab) => tab.side === side),
        TAB_FIELDS,
        (tab) => say("draft.diff.tab", { row: tab.row, rib: tab.rib, line: bare(tab.lineKey) }),
        side,
        named,
      ),
    ),
  ];
}

/** Changes of each side; those that are the same on both are told once, the others with their side. */
function bothSides(
  of: (side: Side, named: Side | undefined) => readonly PlanChange[],
): readonly PlanChange[] {
  const key = ({ id, field, before, after }: PlanChange): string =>
    JSON.stringify([id, field, before, after]);
  const [left, right] = SIDES.map((side) => ({ plain: of(side, undefined), named: of(side, side) })) as [
    { readonly plain: readonly PlanChange[]; readonly named: readonly PlanChange[] },
    { readonly plain: readonly PlanChange[]; readonly named: readonly PlanChange[] },
  ];
  const onLeft = new Set(left.plain.map(key));
  const onRight = new Set(right.plain.map(key));
  return [
    ...left.plain.map(
      (change, i): PlanChange =>
        onRight.has(key(change)) ? { ...change, side: "both" } : (left.named[i] as PlanChange),
    ),
    ...right.named.filter((change) => !onLeft.has(key(change))),
  ];
}
