/** The tables of the plan's editor: what their columns and fields are called, and what they hold. */
import type { EditHalf, EditList } from "../../plan/edit-plan.ts";
import type { EditPath } from "../../plan/edit-steps.ts";
import type { Key } from "../../words/index.ts";
import type { ValueKind, Vocabulary } from "./edit-values.ts";

export const TABLES = ["lines", "tabs", "hang", "materials", "wing"] as const;
export type TableId = (typeof TABLES)[number];

/** Names that a cell may take from the plan itself. */
export type OptionsOf = "rows" | "anchors" | "lines" | "materials" | "risers" | "from" | "kinds" | "settings";

interface Field {
  readonly field: EditPath;
  readonly label: Key;
  readonly kind: ValueKind;
  /** Undefined for lengths, which have the unit that is set. */
  readonly unit?: string;
  readonly options?: OptionsOf;
  readonly vocabulary?: Vocabulary;
}

export interface Column extends Field {
  /** In pixels. */
  readonly width: number;
  /** Follows from other cells. */
  readonly derived?: "carries" | "tier" | "total";
}

export interface ListGrid {
  readonly list: EditList;
  readonly caption: Key;
  readonly columns: readonly Column[];
}
export interface FactGrid {
  readonly caption: Key;
  readonly facts: readonly Field[];
}

export const ROW_WORDS: Vocabulary = { tip: "edit.row.tip", brake: "edit.row.brake" };
export const ANCHOR_WORDS: Vocabulary = { pulley: "edit.anchor.pulley" };
const FROM_WORDS: Vocabulary = { riser: "edit.from.riser", maillon: "edit.from.maillon" };
const KIND_WORDS: Vocabulary = { paraglider: "edit.kind.paraglider", paramotor: "edit.kind.paramotor" };
const SETTING_WORDS: Vocabulary = { trimmer: "edit.setting.trimmer", speed: "edit.setting.speed" };

export const LIST_GRIDS = {
  lines: {
    list: "lines",
    caption: "edit.table.lines",
    columns: [
      { field: ["id"], label: "edit.field.line", kind: "text", width: 92 },
      {
        field: ["row"],
        label: "edit.field.row",
        kind: "text",
        width: 76,
        options: "rows",
        vocabulary: ROW_WORDS,
      },
      {
        field: ["hangsOn"],
        label: "edit.field.hangsOn",
        kind: "text",
        width: 96,
        options: "anchors",
        vocabulary: ANCHOR_WORDS,
      },
      { field: ["lengthMm"], label: "edit.field.length", kind: "length", width: 104 },
      { field: ["material"], label: "edit.field.material", kind: "text", width: 172, options: "materials" },
      { field: ["colour"], label: "edit.field.colour", kind: "text", width: 88 },
      { field: ["loop", "name"], label: "edit.field.loop", kind: "text", width: 116 },
      { field: ["loop", "takeUpMm"], label: "edit.field.takeUp", kind: "length", width: 104 },
      { field: ["tier"], label: "edit.field.tier", kind: "number", width: 60, derived: "tier" },
      { field: ["carries"], label: "edit.field.carries", kind: "text", width: 150, derived: "carries" },
    ],
  },
  tabs: {
    list: "tabs",
    caption: "edit.table.tabs",
    columns: [
      { field: ["id"], label: "edit.field.tab", kind: "text", width: 92 },
      {
        field: ["row"],
        label: "edit.field.row",
        kind: "text",
        width: 84,
        options: "rows",
        vocabulary: ROW_WORDS,
      },
      { field: ["rib"], label: "edit.field.rib", kind: "number", width: 80 },
      { field: ["chordFraction"], label: "edit.field.chord", kind: "number", width: 120 },
      { field: ["line"], label: "edit.field.onLine", kind: "text", width: 104, options: "lines" },
      { field: ["pathMm"], label: "edit.field.path", kind: "length", width: 130 },
      { field: ["total"], label: "edit.field.total", kind: "length", width: 130, derived: "total" },
    ],
  },
  risers: {
    list: "risers",
    caption: "edit.table.risers",
    columns: [
      { field: ["id"], label: "edit.field.riser", kind: "text", width: 120 },
      { field: ["lengthMm"], label: "edit.field.strap", kind: "length", width: 120 },
    ],
  },
  maillons: {
    list: "maillons",
    caption: "edit.table.maillons",
    columns: [
      { field: ["id"], label: "edit.field.maillon", kind: "text", width: 130 },
      { field: ["riser"], label: "edit.field.onRiser", kind: "text", width: 120, options: "risers" },
      { field: ["barDiameterMm"], label: "edit.field.bar", kind: "length", width: 120 },
    ],
  },
  materials: {
    list: "materials",
    caption: "edit.table.materials",
    columns: [
      { field: ["id"], label: "edit.field.material", kind: "text", width: 180 },
      { field: ["fibre"], label: "edit.field.fibre", kind: "text", width: 100 },
      { field: ["diameterMm"], label: "edit.field.diameter", kind: "number", unit: "mm", width: 110 },
      { field: ["stiffnessEaN"], label: "edit.field.stiffness", kind: "number", unit: "N", width: 120 },
      { field: ["modulusGPa"], label: "edit.field.modulus", kind: "number", unit: "GPa", width: 100 },
      { field: ["massGPerM"], label: "edit.field.mass", kind: "number", unit: "g/m", width: 96 },
      { field: ["breakingForceN"], label: "edit.field.breaking", kind: "number", unit: "N", width: 120 },
    ],
  },
} as const satisfies Readonly<Record<string, ListGrid>>;

export const SETTING_COLUMNS: readonly Column[] = [
  { field: ["id"], label: "edit.field.setting", kind: "text", width: 120 },
  { field: ["name"], label: "edit.field.called", kind: "text", width: 160 },
  {
    field: ["kind"],
    label: "edit.field.kind",
    kind: "text",
    width: 150,
    options: "settings",
    vocabulary: SETTING_WORDS,
  },
];

export const FACT_GRIDS = {
  wing: {
    caption: "edit.facts.wing",
    facts: [
      { field: ["wing", "name"], label: "edit.field.name", kind: "text" },
      { field: ["wing", "size"], label: "edit.field.size", kind: "text" },
      {
        field: ["wing", "kind"],
        label: "edit.field.kind",
        kind: "text",
        options: "kinds",
        vocabulary: KIND_WORDS,
      },
      { field: ["wing", "allUpWeightKg", "min"], label: "edit.field.weightMin", kind: "number", unit: "kg" },
      { field: ["wing", "allUpWeightKg", "max"], label: "edit.field.weightMax", kind: "number", unit: "kg" },
      { field: ["wing", "note"], label: "edit.field.note", kind: "text" },
    ],
  },
  reference: {
    caption: "edit.facts.reference",
    facts: [
      {
        field: ["reference", "from"],
        label: "edit.field.from",
        kind: "text",
        options: "from",
        vocabulary: FROM_WORDS,
      },
      { field: ["reference", "tensionN"], label: "edit.field.tension", kind: "number", unit: "N" },
      { field: ["reference", "trimmerMm"], label: "edit.field.trimmer", kind: "length" },
      { field: ["reference", "note"], label: "edit.field.note", kind: "text" },
    ],
  },
  tolerances: {
    caption: "edit.facts.tolerances",
    facts: [
      { field: ["tolerances", "pathMm"], label: "edit.field.limitPath", kind: "length" },
      { field: ["tolerances", "leftRightMm"], label: "edit.field.limitSides", kind: "length" },
      { field: ["tolerances", "rowToRowMm"], label: "edit.field.limitRows", kind: "length" },
      { field: ["tolerances", "minBrakeFreeTravelMm"], label: "edit.field.limitBrakes", kind: "length" },
      { field: ["tolerances", "source"], label: "edit.field.source", kind: "text" },
    ],
  },
  canopy: {
    caption: "edit.facts.canopy",
    facts: [
      { field: ["canopy", "flatAreaM2"], label: "edit.field.flatArea", kind: "number", unit: "m²" },
      { field: ["canopy", "flatSpanM"], label: "edit.field.flatSpan", kind: "number", unit: "m" },
      { field: ["canopy", "projectedAreaM2"], label: "edit.field.projectedArea", kind: "number", unit: "m²" },
      { field: ["canopy", "projectedSpanM"], label: "edit.field.projectedSpan", kind: "number", unit: "m" },
      { field: ["canopy", "cells"], label: "edit.field.cells", kind: "number" },
      { field: ["canopy", "rootChordM"], label: "edit.field.rootChord", kind: "number", unit: "m" },
      { field: ["canopy", "tipChordM"], label: "edit.field.tipChord", kind: "number", unit: "m" },
      { field: ["canopy", "carabinerSpacingM"], label: "edit.field.carabiners", kind: "number", unit: "m" },
      { field: ["canopy", "rowChordFractions", "A"], label: "edit.field.chordA", kind: "number" },
      { field: ["canopy", "rowChordFractions", "B"], label: "edit.field.chordB", kind: "number" },
      { field: ["canopy", "rowChordFractions", "C"], label: "edit.field.chordC", kind: "number" },
      { field: ["canopy", "rowChordFractions", "D"], label: "edit.field.chordD", kind: "number" },
      { field: ["canopy", "rowChordFractions", "tip"], label: "edit.field.chordTip", kind: "number" },
      { field: ["canopy", "rowChordFractions", "brake"], label: "edit.field.chordBrake", kind: "number" },
    ],
  },
  brakes: {
    caption: "edit.facts.brakes",
    facts: [
      { field: ["brakes", "pulleyRiser"], label: "edit.field.pulleyRiser", kind: "text", options: "risers" },
      { field: ["brakes", "pulleyHeightMm"], label: "edit.field.pulleyHeight", kind: "length" },
      { field: ["brakes", "freeTravelMm"], label: "edit.field.freeTravel", kind: "length" },
    ],
  },
} as const satisfies Readonly<Record<string, FactGrid>>;

export type GridId = keyof typeof LIST_GRIDS | keyof typeof FACT_GRIDS | "settings";

export const GRIDS_OF: Readonly<Record<TableId, readonly GridId[]>> = {
  lines: ["lines"],
  tabs: ["tabs"],
  hang: ["maillons", "risers", "brakes", "settings"],
  materials: ["materials"],
  wing: ["wing", "reference", "tolerances", "canopy"],
};

/** Values that a vocabulary's column can take. */
export const FIXED_OPTIONS: Readonly<Partial<Record<OptionsOf, readonly string[]>>> = {
  rows: ["A", "B", "C", "D", "tip", "brake"],
  from: ["riser", "maillon"],
  kinds: ["paraglider", "paramotor"],
  settings: ["trimmer", "speed"],
};

/** The half that is shown first where the plan has several. */
export function shownHalf(halves: readonly EditHalf[], asked: EditHalf): EditHalf {
  return halves.includes(asked) ? asked : (halves[0] ?? "mirrored");
}
