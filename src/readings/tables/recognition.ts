/** How a table was understood: plain data, to be shown, changed by hand, and read by. */
import type { Row, Side } from "../../plan/index.ts";
import type { DecimalMark, Unit } from "../numbers.ts";
import type { Holds, Level } from "./heading.ts";

/**
 * What a column is. `tab`, `line`, `name`: names of what a row is about; `row` and `number`: such a name in two
 * parts, or (`number` alone) the tabs' numbers of a matrix; `side`: left or right in words; `readings`: lengths.
 */
export type ColumnRole =
  | "tab"
  | "line"
  | "name"
  | "row"
  | "number"
  | "side"
  | "readings"
  | "unit"
  | "repeat"
  | "note"
  | "ignored";

/** `ask`: not to be read before somebody has said what it is. */
export type Sureness = "clear" | "likely" | "ask";

export interface RecognisedColumn {
  /** From 0; in a table turned round, a row of the sheet. */
  readonly index: number;
  /** As a spreadsheet calls it: `C`, or `row 3`. */
  readonly label: string;
  readonly title: string;
  readonly role: ColumnRole;
  /**
   * Of readings: the side they are of, `both` where one length stands for both; undefined where a column beside
   * says it (a row per reading), or where nothing does and it must be asked.
   */
  readonly side: Side | "both" | undefined;
  /** Of readings in a matrix: the row of tabs. */
  readonly row: Row | undefined;
  /** Of lines by themselves in a matrix: their place in the cascade. */
  readonly level: Level | undefined;
  /** Which of several readings of the same, from 1. */
  readonly repeat: number | undefined;
  /** That the heading gives. */
  readonly unit: Unit | undefined;
  readonly sureness: Sureness;
  readonly why: string;
}

/** A run of rows with the same columns. Indexes from 0, both ends included. */
export interface TableSection {
  readonly headerRow: number | undefined;
  readonly firstRow: number;
  readonly lastRow: number;
  readonly columns: readonly RecognisedColumn[];
}

export interface RecognisedTable {
  /** `names`: a row per tab or line; `readings`: a row per reading; `matrix`: tab numbers down, wing rows across. */
  readonly layout: "names" | "readings" | "matrix";
  /** `across`: rows and columns exchanged, as where the tabs stand side by side. */
  readonly orientation: "down" | "across";
  /** One, or several that stand under one another. */
  readonly sections: readonly TableSection[];
  /** What the table says that it holds; undefined where it says nothing. */
  readonly holds: Exclude<Holds, "difference"> | undefined;
  /** Of lengths whose column and cell name none. */
  readonly unit: Unit | undefined;
  /** `heading`: a column, a title or a footnote says it; `plan`: the one that fits the plan's lengths; `stated`: by hand. */
  readonly unitFrom: "heading" | "cells" | "plan" | "stated" | undefined;
  readonly decimalMark: DecimalMark | undefined;
  /**
   * Of a matrix: number n means the n-th tab outwards in its row, or the tab of that name (A + 3 = A3);
   * undefined where they differ in the plan and it must be asked.
   */
  readonly numbering: "outwards" | "names" | undefined;
  /** Of the whole: the least sure of its parts. */
  readonly sureness: Sureness;
  /** In sentences, for people. */
  readonly why: readonly string[];
}
