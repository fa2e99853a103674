/** The order list as plain text for a letter, and as a table for a spreadsheet. Lengths in mm. */
import Papa from "papaparse";
import { type CsvStyle, guardFormula } from "../readings/index.ts";
import type { LengthBasis, OrderItem, OrderList } from "./order.ts";
import { rowWord } from "./trace.ts";

const BASIS: Readonly<Record<LengthBasis, string>> = {
  specified: "as specified",
  assumed: "assumed, ask",
  "old line": "as the old line",
  neighbours: "to land with its neighbours",
};

/** Millimetres with at most one decimal. */
function millimetres(lengthM: number): string {
  return String(Number((lengthM * 1000).toFixed(1)));
}

/** What kind of line it is: `lower line, row A`. */
function kindOf({ tier, row }: Pick<OrderItem, "tier" | "row">): string {
  return `${tier} line, ${rowWord(row)}`;
}

function materialOf({ materialId, fibre, diameterM }: OrderItem): string {
  const named = fibre === undefined || materialId.toLowerCase().includes(fibre.toLowerCase());
  const thickness = millimetres(diameterM);
  const measured = materialId.split(/[^\d.,]+/u).includes(thickness);
  return `${materialId}${named ? "" : `, ${fibre}`}${measured ? "" : `, ${thickness} mm thick`}`;
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
  const title = `Lines for ${oneLine(list.wing)}${list.size === undefined ? "" : `, size ${oneLine(list.size)}`}`;
  const head = ["line", "side", "pieces", "length [mm]", "length is", "what", "material", "colour"];
  const rows = list.items.map((item) => [
    item.name,
    item.sides.join(" + "),
    String(item.quantity),
    millimetres(item.lengthM),
    BASIS[item.lengthBasis],
    kindOf(item),
    materialOf(item),
    item.colour ?? "",
  ]);
  const ends = list.items.flatMap((item) => [
    `${item.name}${list.items.filter(({ name }) => name === item.name).length > 1 ? ` ${item.sides.join(" + ")}` : ""}`,
    `  below: ${item.lowerEnd}${item.loop === undefined ? "" : `; loop specified: ${item.loop} (tied on the maillon, not part of the length)`}`,
    `  above: ${item.upperEnd}`,
  ]);
  const section = (name: string, lines: readonly string[]): string[] =>
    lines.length === 0 ? [] : ["", name, ...lines.map((line) => `- ${oneLine(line)}`)];
  return `${[
    title,
    "=".repeat([...title].length),
    "",
    ...aligned([head, ...rows.map((row) => row.map(oneLine))], new Set([2, 3])),
    "",
    "Ends",
    ...ends.map((line) => (line.startsWith("  ") ? `  ${oneLine(line)}` : oneLine(line))),
    ...section("Notes", list.notes),
    ...section("Please look at", list.warnings),
    ...section("Mind", list.cautions),
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

const COLUMNS = [
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
] as const;

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
    `lines for: ${list.wing}`,
    ...(list.size === undefined ? [] : [`size: ${list.size}`]),
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
    BASIS[item.lengthBasis],
    number(String(item.tensionN)),
    guardFormula(item.lowerEnd),
    guardFormula(item.upperEnd),
    guardFormula(item.colour ?? ""),
    guardFormula(item.loop ?? ""),
  ]);
  return `${Papa.unparse([...comments, [...COLUMNS], ...rows], { delimiter: style.delimiter, newline: "\r\n" })}\r\n`;
}
