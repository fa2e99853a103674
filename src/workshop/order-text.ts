/** The order list as plain text for a letter, in the language and unit set, and as a table for a spreadsheet, in mm. */

import Papa from "papaparse";
import { trimmedMm, trimmedNumber } from "../diagnosis/wording.ts";
import { type CsvStyle, guardFormula } from "../readings/index.ts";
import { type Key, lengthUnitName, say } from "../words/index.ts";
import type { LengthBasis, OrderItem, OrderList } from "./order.ts";
import { sayLineKind, saySide } from "./trace.ts";

const BASIS: Readonly<Record<LengthBasis, Key>> = {
  specified: "workshop.order.basis.specified",
  assumed: "workshop.order.basis.assumed",
  "old line": "workshop.order.basis.old",
  neighbours: "workshop.order.basis.neighbours",
};

/** Millimetres with at most one decimal and a point before it, in every language. */
function millimetres(lengthM: number): string {
  return String(Number((lengthM * 1000).toFixed(1)));
}

function materialOf({ materialId, fibre, diameterM }: OrderItem): string {
  const named = fibre === undefined || materialId.toLowerCase().includes(fibre.toLowerCase());
  const thickness = millimetres(diameterM);
  const measured = materialId.split(/[^\d.,]+/u).includes(thickness);
  return [
    materialId,
    ...(named ? [] : [fibre]),
    ...(measured ? [] : [say("workshop.order.thick", { diameter: trimmedMm(diameterM) })]),
  ].join(", ");
}

/** One line of text each, so that no name from a plan can break the layout. */
function oneLine(text: string): string {
  return text.replace(/\s+/gu, " ").trim();
}

/**
 * The list as text: a table in columns, the ends of each line under it, then notes, warnings and cautions. Aligned for
 * a font of even width; line breaks are LF.
 */
export function orderText(list: OrderList): string {
  const title = oneLine(
    list.size === undefined
      ? say("workshop.order.title", { wing: list.wing })
      : say("workshop.order.title.size", { wing: list.wing, size: list.size }),
  );
  const head = [
    say("workshop.order.head.line"),
    say("workshop.order.head.side"),
    say("workshop.order.head.pieces"),
    say("workshop.order.head.length", { unit: lengthUnitName() }),
    say("workshop.order.head.basis"),
    say("workshop.order.head.what"),
    say("workshop.order.head.material"),
    say("workshop.order.head.colour"),
  ];
  const sidesOf = ({ sides }: OrderItem): string => sides.map(saySide).join(" + ");
  const rows = list.items.map((item) => [
    item.name,
    sidesOf(item),
    String(item.quantity),
    trimmedNumber(item.lengthM),
    say(BASIS[item.lengthBasis]),
    sayLineKind(item),
    materialOf(item),
    item.colour ?? "",
  ]);
  const ends = list.items.flatMap((item) => [
    `${item.name}${list.items.filter(({ name }) => name === item.name).length > 1 ? ` ${sidesOf(item)}` : ""}`,
    `  ${
      item.loop === undefined
        ? say("workshop.order.below", { end: item.lowerEnd })
        : say("workshop.order.below.loop", { end: item.lowerEnd, loop: item.loop })
    }`,
    `  ${say("workshop.order.above", { end: item.upperEnd })}`,
  ]);
  const section = (name: string, lines: readonly string[]): string[] =>
    lines.length === 0 ? [] : ["", name, ...lines.map((line) => `- ${oneLine(line)}`)];
  return `${[
    title,
    "=".repeat([...title].length),
    "",
    ...aligned([head, ...rows.map((row) => row.map(oneLine))], new Set([2, 3])),
    "",
    say("workshop.order.ends"),
    ...ends.map((line) => (line.startsWith("  ") ? `  ${oneLine(line)}` : oneLine(line))),
    ...section(say("workshop.order.notes"), list.notes),
    ...section(say("workshop.order.look"), list.warnings),
    ...section(say("workshop.order.mind"), list.cautions),
  ].join("\n")}\n`;
}

/** Rows in columns two spaces apart; numbers to the right. */
function aligned(rows: readonly (readonly string[])[], toTheRight: ReadonlySet<number>): string[] {
  const widths = (rows[0] ?? []).map((_, column) =>
    Math.max(...rows.map((row) => [...(row[column] ?? "")].length)),
  );
  return rows.map((row) =>
    row
      .map((cell, column) => {
        const room = " ".repeat((widths[column] ?? 0) - [...cell].length);
        return toTheRight.has(column) ? room + cell : cell + room;
      })
      .join("  ")
      .trimEnd(),
  );
}

/** Headings, and what a length comes from: the same in every language, for programs. */
type Column =
  | "line"
  | "side"
  | "pieces"
  | "row"
  | "tier"
  | "material"
  | "fibre"
  | "diameter mm"
  | "length mm"
  | "length is"
  | "at tension N"
  | "lower end"
  | "upper end"
  | "colour"
  | "loop specified";
const COLUMNS: readonly Column[] = [
  "line",
  "side",
  "pieces",
  "row",
  "tier",
  "material",
  "fibre",
  "diameter mm",
  "length mm",
  "length is",
  "at tension N",
  "lower end",
  "upper end",
  "colour",
  "loop specified",
];
type CsvBasis = "as specified" | "assumed, ask" | "as the old line" | "to land with its neighbours";
const CSV_BASIS: Readonly<Record<LengthBasis, CsvBasis>> = {
  specified: "as specified",
  assumed: "assumed, ask",
  "old line": "as the old line",
  neighbours: "to land with its neighbours",
};

/**
 * The list as CSV (RFC 4180, line breaks CRLF): wing, notes, warnings and cautions in comment lines, then an item to a
 * row. Text that a spreadsheet would run as a formula is given an apostrophe in front.
 *
 * @throws Error where the delimiter and the decimal mark are the same
 */
export function orderCsv(list: OrderList, style: CsvStyle = { delimiter: ",", decimalMark: "." }): string {
  if (style.delimiter === style.decimalMark)
    throw new Error(`Delimiter and decimal mark are both "${style.delimiter}".`);
  const number = (text: string): string => text.replace(".", style.decimalMark);
  const comments = [
    say("workshop.order.csv.wing", { wing: list.wing }),
    ...(list.size === undefined ? [] : [say("workshop.order.csv.size", { size: list.size })]),
    ...list.notes,
    ...list.warnings,
    ...list.cautions,
  ].map((text) => [`# ${oneLine(text)}`]);
  const rows = list.items.map((item) => [
    guardFormula(item.name),
    item.sides.join(" + "),
    String(item.quantity),
    item.row,
    item.tier,
    guardFormula(item.materialId),
    guardFormula(item.fibre ?? ""),
    number(millimetres(item.diameterM)),
    number(millimetres(item.lengthM)),
    CSV_BASIS[item.lengthBasis],
    number(String(item.tensionN)),
    guardFormula(item.lowerEnd),
    guardFormula(item.upperEnd),
    guardFormula(item.colour ?? ""),
    guardFormula(item.loop ?? ""),
  ]);
  return `${Papa.unparse([...comments, [...COLUMNS], ...rows], { delimiter: style.delimiter, newline: "\r\n" })}\r\n`;
}
