/** The editor's tables with their cells: what each shows and where in the plan it stands. */
import {
  type EditHalf,
  type EditList,
  listPath,
  renameOps,
  tierOps,
  totalsMm,
} from "../../plan/edit-plan.ts";
import { type EditOp, type EditPath, fieldOps, listAt, valueAt, withOps } from "../../plan/edit-steps.ts";
import { formatPath } from "../../plan/problems.ts";
import { type Key, lengthUnitName, say } from "../../words/index.ts";
import {
  ANCHOR_WORDS,
  type Column,
  FACT_GRIDS,
  type FactGrid,
  FIXED_OPTIONS,
  type GridId,
  LIST_GRIDS,
  type ListGrid,
  type OptionsOf,
  SETTING_COLUMNS,
} from "./edit-columns.ts";
import { readValue, textOf, type ValueKind, type Vocabulary } from "./edit-values.ts";

export interface Cell {
  readonly path: EditPath;
  /** The path written out: names the cell in the page. */
  readonly at: string;
  readonly text: string;
  readonly kind: ValueKind;
  readonly derived: boolean;
  readonly options: OptionsOf | undefined;
  readonly vocabulary: Vocabulary | undefined;
  /** Of the column or the fact, with its unit. */
  readonly label: string;
}

export interface GridRow {
  /** The member's or fact's name. */
  readonly name: string;
  /** Place in the list; of a fact 0. */
  readonly index: number;
  readonly cells: readonly Cell[];
}

export interface GridColumn {
  readonly label: string;
  readonly unit: string | undefined;
  readonly width: number;
  readonly numeric: boolean;
  readonly derived: boolean;
}

export interface Grid {
  readonly id: GridId;
  readonly caption: string;
  readonly list: EditList | undefined;
  readonly half: EditHalf;
  /** Names of rows stand in a column of their own where they aren't a cell. */
  readonly named: boolean;
  readonly columns: readonly GridColumn[];
  readonly rows: readonly GridRow[];
}

const FACT_NAME_WIDTH = 190;
const FACT_VALUE_WIDTH = 400;

const unitOf = (kind: ValueKind, unit: string | undefined): string | undefined =>
  kind === "length" ? lengthUnitName() : unit;

function labelled(label: Key, kind: ValueKind, unit: string | undefined): string {
  const shown = unitOf(kind, unit);
  return shown === undefined ? say(label) : say("edit.field.inUnit", { label: say(label), unit: shown });
}

/** A grid of the plan as it is now. */
export function gridOf(plan: unknown, id: GridId, half: EditHalf): Grid {
  if (id in FACT_GRIDS) return factGrid(plan, id, FACT_GRIDS[id as keyof typeof FACT_GRIDS], half);
  if (id === "settings") {
    const straps = listAt(plan, ["risers"]).flatMap(({ id: riser }): Column[] =>
      typeof riser === "string"
        ? [{ field: ["strapChangesMm", riser], label: "edit.field.strapChange", kind: "length", width: 110 }]
        : [],
    );
    const grid: ListGrid = {
      list: "settings",
      caption: "edit.table.settings",
      columns: [...SETTING_COLUMNS, ...straps],
    };
    return listGrid(plan, id, grid, half);
  }
  return listGrid(plan, id, LIST_GRIDS[id as keyof typeof LIST_GRIDS], half);
}

function listGrid(plan: unknown, id: GridId, grid: ListGrid, half: EditHalf): Grid {
  const path = listPath(grid.list, half);
  const members = listAt(plan, path);
  const derived = derivedTexts(plan, grid.list, half);
  const titles = grid.columns.map(({ label, field }) =>
    label === "edit.field.strapChange" ? say(label, { riser: String(field[1]) }) : say(label),
  );
  const labels = grid.columns.map(({ kind, unit }, col) => {
    const shown = unitOf(kind, unit);
    const label = titles[col] ?? "";
    return shown === undefined ? label : say("edit.field.inUnit", { label, unit: shown });
  });
  return {
    id,
    caption: say(grid.caption),
    list: grid.list,
    half,
    named: false,
    columns: grid.columns.map(
      ({ kind, unit, width, derived: follows }, col): GridColumn => ({
        label: titles[col] ?? "",
        unit: unitOf(kind, unit),
        width,
        numeric: kind !== "text",
        derived: follows !== undefined,
      }),
    ),
    rows: members.map(
      (member, index): GridRow => ({
        name: typeof member.id === "string" ? member.id : say("edit.unnamed"),
        index,
        cells: grid.columns.map((column, col): Cell => {
          const at = [...path, index, ...column.field];
          const text =
            column.derived === "carries" || column.derived === "total"
              ? derived(column.derived, member)
              : textOf(valueAt(member, column.field), column.kind, column.vocabulary);
          return {
            path: at,
            at: formatPath(at),
            text,
            kind: column.kind,
            derived: column.derived !== undefined,
            options: column.options,
            vocabulary: column.vocabulary,
            label: labels[col] ?? "",
          };
        }),
      }),
    ),
  };
}

type Member = Readonly<Record<string, unknown>>;

function derivedTexts(
  plan: unknown,
  list: EditList,
  half: EditHalf,
): (what: "carries" | "total", member: Member) => string {
  if (list === "tabs") {
    const totalOf = totalsMm(plan, half);
    return (_, member) => textOf(totalOf(member), "length");
  }
  const carried = new Map<unknown, string[]>();
  if (list === "lines") {
    const note = (on: unknown, id: unknown): void => {
      const names = carried.get(on);
      if (names === undefined) carried.set(on, [String(id)]);
      else names.push(String(id));
    };
    for (const line of listAt(plan, listPath("lines", half))) note(line.hangsOn, line.id);
    for (const tab of listAt(plan, listPath("tabs", half)))
      note(tab.line, say("edit.carriesTab", { id: String(tab.id) }));
  }
  return (_, member) => (carried.get(member.id) ?? []).join(", ");
}

function factGrid(plan: unknown, id: GridId, grid: FactGrid, half: EditHalf): Grid {
  return {
    id,
    caption: say(grid.caption),
    list: undefined,
    half,
    named: true,
    columns: [
      { label: say("edit.fact"), unit: undefined, width: FACT_NAME_WIDTH, numeric: false, derived: true },
      { label: say("edit.value"), unit: undefined, width: FACT_VALUE_WIDTH, numeric: false, derived: false },
    ],
    rows: grid.facts.map(({ field, label, kind, unit, options, vocabulary }): GridRow => {
      const name = labelled(label, kind, unit);
      return {
        name,
        index: 0,
        cells: [
          {
            path: field,
            at: formatPath(field),
            text: textOf(valueAt(plan, field), kind, vocabulary),
            kind,
            derived: false,
            options,
            vocabulary,
            label: name,
          },
        ],
      };
    }),
  };
}

/** Texts that a cell offers, in the plan's order. */
export function optionsOf(
  plan: unknown,
  of: OptionsOf,
  half: EditHalf,
  vocabulary?: Vocabulary,
): readonly string[] {
  const ids = (path: EditPath): readonly string[] =>
    listAt(plan, path).flatMap(({ id }) => (typeof id === "string" ? [id] : []));
  const values =
    FIXED_OPTIONS[of] ??
    (of === "anchors"
      ? [...ids(["maillons"]), ...Object.keys(ANCHOR_WORDS), ...ids(listPath("lines", half))]
      : of === "lines"
        ? ids(listPath("lines", half))
        : of === "materials"
          ? ids(["materials"])
          : ids(["risers"]));
  return [...new Set(values.map((value) => textOf(value, "text", vocabulary)))];
}

/** The other half's cell for the member of the same name; undefined where there is none. */
function twinOf(plan: unknown, path: EditPath): EditPath | undefined {
  const [sides, half, list, index, ...field] = path;
  if (sides !== "sides" || (half !== "left" && half !== "right") || typeof index !== "number")
    return undefined;
  const other = half === "left" ? "right" : "left";
  const id = valueAt(plan, ["sides", half, String(list), index, "id"]);
  const place = listAt(plan, ["sides", other, String(list)]).findIndex((member) => member.id === id);
  return place === -1 ? undefined : ["sides", other, String(list), place, ...field];
}

/**
 * The changes that a text typed into a cell makes: a name takes what refers to it along, a line hung elsewhere gets its tier.
 * @param withTwin the same on the other side, where the plan spells out both
 */
export function typedOps(
  plan: unknown,
  cell: Pick<Cell, "path" | "kind" | "vocabulary">,
  text: string,
  withTwin: boolean,
): readonly EditOp[] {
  const value = readValue(text, cell.kind, cell.vocabulary);
  if (value === valueAt(plan, cell.path)) return [];
  const twin = withTwin ? twinOf(plan, cell.path) : undefined;
  const ops = opsAt(plan, cell.path, value);
  return twin === undefined ? ops : [...ops, ...opsAt(withOps(plan, ops), twin, value)];
}

function opsAt(plan: unknown, path: EditPath, value: unknown): readonly EditOp[] {
  const inHalf = path[0] === "sides";
  const [list, index, ...field] = inHalf ? path.slice(2) : path;
  const half = (inHalf ? path[1] : "mirrored") as EditHalf;
  if (typeof index !== "number") return fieldOps(plan, path, value);
  if (field[0] === "id") {
    const ops = renameOps(plan, list as EditList, half, index, value);
    return list === "lines" ? [...ops, ...tierOps(withOps(plan, ops), half)] : ops;
  }
  const ops = fieldOps(plan, path, value);
  return list === "lines" && field[0] === "hangsOn" ? [...ops, ...tierOps(withOps(plan, ops), half)] : ops;
}
