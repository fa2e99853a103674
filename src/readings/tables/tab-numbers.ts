/** From a wing's row and a number to the tab that is meant. */
import { type Row, SIDES, type Side, type Tab, type Wing } from "../../plan/index.ts";
import type { RecognisedTable } from "./recognition.ts";

/** A row's tabs on one side, outwards from the middle. */
export function tabsOutwards(wing: Wing, row: Row, side: Side): readonly Tab[] {
  return wing.tabs
    .filter((tab) => tab.row === row && tab.side === side)
    .sort((one, other) => one.rib - other.rib);
}

/** The number that a tab's name ends with: 3 of "A3". */
export function numberInName(id: string): number | undefined {
  const digits = /(\d+)$/u.exec(id)?.[1];
  return digits === undefined ? undefined : Number(digits);
}

/** The tab that a number in a row means; undefined where the plan has none. */
export function tabOf(
  wing: Wing,
  row: Row,
  side: Side,
  number: number,
  numbering: NonNullable<RecognisedTable["numbering"]>,
): Tab | undefined {
  const tabs = tabsOutwards(wing, row, side);
  return numbering === "outwards" ? tabs[number - 1] : tabs.find((tab) => numberInName(tab.id) === number);
}

/** How the plan's names of some rows go with counting outwards. */
export interface NamesAgree {
  /** `contradict`: the names have numbers, and other ones; `none`: at least one tab's name has no number. */
  readonly agree: "yes" | "contradict" | "none";
  /** Of the first that differs. */
  readonly example: { readonly row: Row; readonly number: number; readonly id: string } | undefined;
}

export function namesAgree(wing: Wing, rows: ReadonlySet<Row>): NamesAgree {
  let bare: NamesAgree["example"];
  for (const row of rows)
    for (const side of SIDES)
      for (const [place, { id }] of tabsOutwards(wing, row, side).entries()) {
        const number = numberInName(id);
        const example = { row, number: place + 1, id };
        if (number === undefined) bare ??= example;
        else if (number !== place + 1) return { agree: "contradict", example };
      }
  return { agree: bare === undefined ? "yes" : "none", example: bare };
}
