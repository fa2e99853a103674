/**
 * Writes a check as a file of this program, or as a table for a spreadsheet. Both are read back as they were.
 */
import Papa from "papaparse";
import { guardFormula } from "./formula-guard.ts";
import type { Check, StatedUncertainty } from "./model.ts";
import type { DecimalMark } from "./numbers.ts";
import type { Delimiter } from "./records.ts";
import type { CheckFile } from "./schema.ts";

/** Millimetres to a nanometre: no reading is finer, and 7.421 m shall be 7421 mm again. */
function millimetres(lengthM: number): number {
  return Number((lengthM * 1000).toFixed(6));
}

/** Millionths to a millionth: 1e-4 shall be 100 ppm again. */
function millionths(share: number): number {
  return Number((share * 1e6).toFixed(6));
}

function uncertaintyFields(stated: StatedUncertainty = {}): Partial<NonNullable<CheckFile["instrument"]>> {
  const { zeroM, scale, tensionN, readingM } = stated;
  return {
    ...(zeroM === undefined ? {} : { zeroUncertaintyMm: millimetres(zeroM) }),
    ...(scale === undefined ? {} : { scaleUncertaintyPpm: millionths(scale) }),
    ...(tensionN === undefined ? {} : { tensionUncertaintyN: tensionN }),
    ...(readingM === undefined ? {} : { readingUncertaintyMm: millimetres(readingM) }),
  };
}

/** A check in its file's shape. */
export function checkFile(check: Check): CheckFile {
  const { wingName, instrument: name, instrumentZeroM, resolutionM, note } = check;
  const instrument = {
    ...(name === undefined ? {} : { name }),
    ...(instrumentZeroM === 0 ? {} : { zeroMm: millimetres(instrumentZeroM) }),
    ...(resolutionM === undefined ? {} : { resolutionMm: millimetres(resolutionM) }),
    ...uncertaintyFields(check.uncertainty),
  };
  return {
    format: "linewright-check",
    version: 1,
    ...(wingName === undefined ? {} : { wing: wingName }),
    date: check.date,
    tensionN: check.tensionN,
    from: check.from,
    ...(Object.keys(instrument).length === 0 ? {} : { instrument }),
    ...(note === undefined ? {} : { note }),
    readings: check.readings.map(({ target, valuesM, note: remark }) => {
      const [only, ...more] = valuesM.map(millimetres);
      const mm = only !== undefined && more.length === 0 ? only : valuesM.map(millimetres);
      const rest = {
        side: target.side,
        mm,
        ...(remark === undefined ? {} : { note: remark }),
      };
      return target.kind === "tab" ? { tab: target.id, ...rest } : { line: target.id, ...rest };
    }),
  };
}

/** A check file's text: JSON with two spaces of indent and a line break at the end. */
export function writeCheckJson(check: Check): string {
  return `${JSON.stringify(checkFile(check), null, 2)}\n`;
}

export interface CsvStyle {
  readonly delimiter: Delimiter;
  readonly decimalMark: DecimalMark;
}

/** Commas and decimal points; the other usual pair is `{ delimiter: ";", decimalMark: "," }`. */
const PLAIN_CSV: CsvStyle = { delimiter: ",", decimalMark: "." };

function uncertaintyComments(
  stated: StatedUncertainty | undefined,
  number: (value: number) => string,
): readonly string[] {
  const fields = uncertaintyFields(stated);
  const comment = (name: string, value: number | undefined, unit: string): readonly string[] =>
    value === undefined ? [] : [`${name} uncertainty: ${number(value)} ${unit}`];
  return [
    ...comment("zero", fields.zeroUncertaintyMm, "mm"),
    ...comment("scale", fields.scaleUncertaintyPpm, "ppm"),
    ...comment("tension", fields.tensionUncertaintyN, "N"),
    ...comment("reading", fields.readingUncertaintyMm, "mm"),
  ];
}

/**
 * A check as CSV (RFC 4180, line breaks CRLF): its frame in comment lines, then a row per single reading with
 * the columns tab, line, side, mm, note. Text cells that a spreadsheet would run as a formula are given an
 * apostrophe in front; reading takes it off again.
 *
 * Throws where the delimiter and the decimal mark are the same.
 */
export function writeReadingsCsv(check: Check, style: CsvStyle = PLAIN_CSV): string {
  if (style.delimiter === style.decimalMark)
    throw new Error(`Delimiter and decimal mark are both "${style.delimiter}".`);
  // Three decimals might be read as grouped thousands: a fourth says that they aren't.
  const number = (value: number): string =>
    String(value)
      .replace(/^(\d{1,3}\.\d{3})$/u, "$10")
      .replace(".", style.decimalMark);
  const length = (lengthM: number): string => number(millimetres(lengthM));
  // A comment is one cell, quoted where it must be, so that no part of it becomes a cell of its own.
  const comments = [
    check.wingName === undefined ? undefined : `wing: ${check.wingName}`,
    `date: ${check.date}`,
    `tension: ${number(check.tensionN)} N`,
    `from: ${check.from}`,
    `zero: ${length(check.instrumentZeroM)} mm`,
    check.instrument === undefined ? undefined : `instrument: ${check.instrument}`,
    check.resolutionM === undefined ? undefined : `resolution: ${length(check.resolutionM)} mm`,
    ...uncertaintyComments(check.uncertainty, number),
    check.note === undefined ? undefined : `note: ${check.note}`,
  ].flatMap((text) => (text === undefined ? [] : [[`# ${text}`]]));
  const rows = check.readings.flatMap(({ target, valuesM, note }) =>
    valuesM.map((valueM) => [
      target.kind === "tab" ? guardFormula(target.id) : "",
      target.kind === "line" ? guardFormula(target.id) : "",
      target.side,
      length(valueM),
      guardFormula(note ?? ""),
    ]),
  );
  const table = [...comments, ["tab", "line", "side", "mm", "note"], ...rows];
  // A reader takes trailing delimiters off a bare comment, since spreadsheets fill it up with them.
  const quotes = (value: unknown): boolean => typeof value === "string" && /^#.*[,;\t]$/su.test(value);
  return `${Papa.unparse(table, { delimiter: style.delimiter, newline: "\r\n", quotes })}\r\n`;
}
