/**
 * Minimal XLSX workbooks: the parts of an Office Open XML package (ECMA-376 part 1, sections 12.3 and 18.3) that
 * a reader needs, zipped. Texts are inline strings, so that a cell holds just what it is given.
 */
import { strToU8, zipSync } from "fflate";
import { type Cell, columnLetter } from "../../../src/readings/tables/cells.ts";

export interface Sheet {
  readonly name: string;
  readonly rows: readonly (readonly Cell[])[];
  /** Ranges such as "B1:C1". */
  readonly merged?: readonly string[];
}

const escaped = (text: string): string =>
  text.replace(/&/gu, "&amp;").replace(/</gu, "&lt;").replace(/"/gu, "&quot;");

function cellXml(cell: Cell, address: string): string {
  if (cell === null) return "";
  if (typeof cell === "number") return `<c r="${address}"><v>${cell}</v></c>`;
  if (typeof cell === "boolean") return `<c r="${address}" t="b"><v>${cell ? 1 : 0}</v></c>`;
  // Days are numbers in a date's format; day 1 is the first of January 1900.
  if (cell instanceof Date)
    return `<c r="${address}" s="1"><v>${cell.getTime() / 86_400_000 + 25_569}</v></c>`;
  return `<c r="${address}" t="inlineStr"><is><t xml:space="preserve">${escaped(cell)}</t></is></c>`;
}

function sheetXml({ rows, merged = [] }: Sheet): string {
  const rowXml = rows.map((row, at) => {
    const cells = row.map((cell, column) => cellXml(cell, `${columnLetter(column)}${at + 1}`)).join("");
    return cells === "" ? "" : `<row r="${at + 1}">${cells}</row>`;
  });
  const merges = merged.map((range) => `<mergeCell ref="${range}"/>`).join("");
  const mergeXml = merges === "" ? "" : `<mergeCells count="${merged.length}">${merges}</mergeCells>`;
  return `<worksheet xmlns="${MAIN}"><sheetData>${rowXml.join("")}</sheetData>${mergeXml}</worksheet>`;
}

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';
const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/** The bytes of a workbook. */
export function workbook(...sheets: readonly Sheet[]): Uint8Array {
  const each = (make: (sheet: Sheet, number: number) => string): string =>
    sheets.map((sheet, place) => make(sheet, place + 1)).join("");
  const files: Record<string, string> = {
    "[Content_Types].xml": `<Types xmlns="${PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${TYPE}.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="${TYPE}.styles+xml"/>${each((_, n) => `<Override PartName="/xl/worksheets/sheet${n}.xml" ContentType="${TYPE}.worksheet+xml"/>`)}</Types>`,
    "_rels/.rels": `<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    "xl/workbook.xml": `<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}"><sheets>${each(({ name }, n) => `<sheet name="${escaped(name)}" sheetId="${n}" r:id="rId${n}"/>`)}</sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<Relationships xmlns="${PACKAGE}/relationships">${each((_, n) => `<Relationship Id="rId${n}" Type="${OFFICE}/worksheet" Target="worksheets/sheet${n}.xml"/>`)}<Relationship Id="rIdStyles" Type="${OFFICE}/styles" Target="styles.xml"/></Relationships>`,
    "xl/styles.xml": `<styleSheet xmlns="${MAIN}"><cellStyleXfs count="1"><xf numFmtId="0"/></cellStyleXfs><cellXfs count="2"><xf numFmtId="0" xfId="0"/><xf numFmtId="14" xfId="0" applyNumberFormat="1"/></cellXfs></styleSheet>`,
  };
  for (const [place, sheet] of sheets.entries())
    files[`xl/worksheets/sheet${place + 1}.xml`] = sheetXml(sheet);
  return zipSync(
    Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(XML + text)])),
  );
}
