/** Which rows of a table are shown: what stands above it, its first rows, and every row in which something is wrong. */
import type { RecognisedTable } from "../../readings/tables/recognition.ts";

export type ShownRow =
  /** What the columns of a section are taken for. */
  | { readonly kind: "heads"; readonly section: number }
  | { readonly kind: "row"; readonly row: number; readonly section: number | undefined }
  /** Rows that aren't shown. */
  | { readonly kind: "gap"; readonly from: number; readonly count: number };

const FIRST_ROWS = 7;
const ROWS_ABOVE = 4;
/** More isn't shown at once, not even when asked for. */
export const MOST_ROWS_SHOWN = 300;

/**
 * @param wanted rows to show in any case
 * @param all whether all rows are asked for
 * @param isEmpty whether a row holds nothing; outside the sections such rows are passed over
 */
export function shownRows(
  height: number,
  { sections }: RecognisedTable,
  wanted: ReadonlySet<number>,
  all: boolean,
  isEmpty: (row: number) => boolean = () => false,
): readonly ShownRow[] {
  const show = new Set<number>();
  for (const { headerRow, firstRow, lastRow } of sections) {
    const top = (headerRow ?? firstRow) - ROWS_ABOVE + 1;
    for (let row = Math.max(0, top); row < firstRow; row++) show.add(row);
    for (let row = firstRow; row <= Math.min(lastRow, firstRow + FIRST_ROWS - 1); row++) show.add(row);
  }
  for (const row of wanted) show.add(row);
  if (all) for (let row = 0; row < height; row++) show.add(row);

  const shown: ShownRow[] = [];
  let count = 0;
  let hidden = 0;
  const closeGap = (row: number): void => {
    if (hidden > 0) shown.push({ kind: "gap", from: row - hidden, count: hidden });
    hidden = 0;
  };
  for (let row = 0; row < height; row++) {
    const begins = sections.findIndex(({ firstRow }) => firstRow === row);
    if (begins >= 0) {
      closeGap(row);
      shown.push({ kind: "heads", section: begins });
    }
    const within = sections.findIndex(({ firstRow, lastRow }) => row >= firstRow && row <= lastRow);
    if (within < 0 && isEmpty(row)) continue;
    if (!show.has(row) || count >= MOST_ROWS_SHOWN) {
      hidden += 1;
      continue;
    }
    closeGap(row);
    count += 1;
    shown.push({ kind: "row", row, section: within < 0 ? undefined : within });
  }
  closeGap(height);
  return shown;
}
