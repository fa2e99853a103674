/** A block from a spreadsheet into the cells from one on, downwards and to the right; and a table as such a block. */
import { type EditOp, withOps } from "../../plan/edit-steps.ts";
import { type Grid, typedOps } from "./edit-tables.ts";

/** Cells as they lie in copied text: rows by line ends, columns by tabs; quoted cells may hold both. */
export function blockOf(text: string): readonly (readonly string[])[] {
  const rows: string[][] = [[]];
  let cell = "";
  let quoted = false;
  const end = (): void => {
    rows.at(-1)?.push(cell);
    cell = "";
  };
  const clean = text.replace(/\r\n?/gu, "\n").replace(/\n$/u, "");
  for (let at = 0; at < clean.length; at++) {
    const char = clean[at] as string;
    if (quoted) {
      if (char !== '"') cell += char;
      else if (clean[at + 1] === '"') cell += clean[at++];
      else quoted = false;
    } else if (char === '"' && cell === "") quoted = true;
    else if (char === "\t") end();
    else if (char === "\n") {
      end();
      rows.push([]);
    } else cell += char;
  }
  end();
  return rows;
}

export interface Pasted {
  readonly ops: readonly EditOp[];
  /** Cells that took a value, unchanged ones among them. */
  readonly filled: number;
  /** Cells of the block that met none, or one that follows from others. */
  readonly left: number;
}

/** The changes that a block makes. */
export function pasteOps(
  plan: unknown,
  grid: Grid,
  block: readonly (readonly string[])[],
  from: { readonly row: number; readonly col: number },
  withTwin: boolean,
): Pasted {
  const ops: EditOp[] = [];
  let now = plan;
  let filled = 0;
  let left = 0;
  block.forEach((texts, down) => {
    texts.forEach((text, across) => {
      const cell = grid.rows[from.row + down]?.cells[from.col + across];
      if (cell === undefined || cell.derived) {
        left++;
        return;
      }
      filled++;
      const more = typedOps(now, cell, text, withTwin);
      ops.push(...more);
      now = withOps(now, more);
    });
  });
  return { ops, filled, left };
}

/** A whole table for a spreadsheet, with its headings. */
export function tableText(grid: Grid): string {
  const quote = (text: string): string => (/["\t\n]/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const head = grid.columns.map(({ label, unit }) => (unit === undefined ? label : `${label} [${unit}]`));
  const rows = grid.rows.map(({ name, cells }) => [
    ...(grid.named ? [name] : []),
    ...cells.map(({ text }) => text),
  ]);
  return [head, ...rows].map((row) => row.map(quote).join("\t")).join("\n");
}
