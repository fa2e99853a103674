/** A table whose cells are typed into: only the rows in sight are drawn, one field lies over the active cell. */
import {
  type CSSProperties,
  memo,
  type PointerEvent,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import { flushSync } from "react-dom";
import type { Problem } from "../../../plan/model.ts";
import { say } from "../../../words/index.ts";
import type { Cell, Grid, GridRow } from "../../model/edit-tables.ts";
import { useMedia } from "../../parts/hooks.ts";
import { CellField } from "./CellField.tsx";
import styles from "./Edit.module.css";
import { editor, useEditor } from "./editor.ts";

/** One line, or two where the table is narrow. */
const NOTE_HEIGHT = { beside: 24, narrow: 44 } as const;
const MOST_NOTES = 2;
/** Rows drawn beyond those in sight. */
const AHEAD = 6;

interface Note {
  readonly cell: Cell;
  readonly problem: Problem;
}

const NO_NOTES: readonly Note[] = [];

function notesOf(row: GridRow, marks: ReadonlyMap<string, readonly Problem[]>): readonly Note[] {
  if (marks.size === 0) return NO_NOTES;
  return row.cells.flatMap((cell) => (marks.get(cell.at) ?? []).map((problem) => ({ cell, problem })));
}

export interface GridTableProps {
  readonly grid: Grid;
  readonly marks: ReadonlyMap<string, readonly Problem[]>;
  /** Row of the line that is picked; undefined where none of them is. */
  readonly picked: number | undefined;
  readonly optionsOf: (cell: Cell) => readonly string[];
  readonly onRow: (row: number) => void;
  readonly onPaste: (text: string) => void;
}

export function GridTable({ grid, marks, picked, optionsOf, onRow, onPaste }: GridTableProps) {
  const box = useRef<HTMLDivElement>(null);
  const [view, setView] = useState({ top: 0, height: 700 });
  const [printing, setPrinting] = useState(false);
  const roomy = useMedia("(pointer: coarse), (max-width: 1359px), (max-height: 819px)");
  const rowHeight = roomy ? 44 : 34;
  const noteHeight = NOTE_HEIGHT[roomy ? "narrow" : "beside"];
  const active = useEditor((state) => (state.active?.grid === grid.id ? state.active : undefined));
  const focusRequest = useEditor((state) => state.focusRequest);
  const fresh = useRef(focusRequest);

  const notes = useMemo(() => grid.rows.map((row) => notesOf(row, marks)), [grid, marks]);
  const tops = useMemo(() => {
    const all = [0];
    for (const of of notes)
      all.push((all.at(-1) ?? 0) + rowHeight + noteHeight * Math.min(MOST_NOTES, of.length));
    return all;
  }, [notes, rowHeight, noteHeight]);
  const lefts = useMemo(() => {
    const all = [0];
    for (const { width } of grid.columns) all.push((all.at(-1) ?? 0) + width);
    return all;
  }, [grid]);
  const width = lefts.at(-1) ?? 0;
  const headHeight = grid.named ? 0 : rowHeight;
  /** Facts have their name in the first column. */
  const shift = grid.named ? 1 : 0;

  useEffect(() => {
    const before = (): void => flushSync(() => setPrinting(true));
    const after = (): void => setPrinting(false);
    window.addEventListener("beforeprint", before);
    window.addEventListener("afterprint", after);
    return () => {
      window.removeEventListener("beforeprint", before);
      window.removeEventListener("afterprint", after);
    };
  }, []);

  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const look = (): void => setView({ top: element.scrollTop, height: element.clientHeight });
    const observer = new ResizeObserver(look);
    observer.observe(element);
    element.addEventListener("scroll", look, { passive: true });
    return () => {
      observer.disconnect();
      element.removeEventListener("scroll", look);
    };
  }, []);

  const reveal = (row: number, col: number | undefined): void => {
    const element = box.current;
    const top = tops[row];
    const bottom = tops[row + 1];
    if (element === null || top === undefined || bottom === undefined) return;
    if (top < element.scrollTop) element.scrollTop = top;
    else if (bottom + headHeight > element.scrollTop + element.clientHeight)
      element.scrollTop = bottom + headHeight - element.clientHeight;
    const column = col === undefined ? undefined : grid.columns[col + shift];
    if (column === undefined || col === undefined || col + shift === 0) return;
    const left = lefts[col + shift] ?? 0;
    const first = grid.columns[0]?.width ?? 0;
    if (left - first < element.scrollLeft) element.scrollLeft = left - first;
    else if (left + column.width > element.scrollLeft + element.clientWidth)
      element.scrollLeft = left + column.width - element.clientWidth;
  };
  const revealing = useRef(reveal);
  revealing.current = reveal;

  useLayoutEffect(() => {
    if (active === undefined) return;
    revealing.current(active.row, active.col);
    if (focusRequest !== fresh.current) box.current?.scrollIntoView({ block: "nearest" });
    fresh.current = focusRequest;
  }, [active, focusRequest]);

  useLayoutEffect(() => {
    if (picked !== undefined) revealing.current(picked, undefined);
  }, [picked]);

  const activate = (row: number, col: number): void => {
    const { settle, activate: go, active: before } = editor.getState();
    settle();
    const last = grid.rows.length - 1;
    const most = grid.columns.length - 1 - shift;
    const next = { row: Math.max(0, Math.min(last, row)), col: Math.max(0, Math.min(most, col)) };
    go({ grid: grid.id, ...next }, true);
    if (before?.grid !== grid.id || before.row !== next.row) onRow(next.row);
  };

  const activating = useRef(activate);
  activating.current = activate;
  const pressed = useCallback((event: PointerEvent, row: number, col: number): void => {
    if (event.button !== 0) return;
    event.preventDefault();
    activating.current(row, col);
  }, []);

  let from = 0;
  let to = grid.rows.length;
  if (!printing) {
    while (from < to && (tops[from + 1] ?? 0) < view.top) from++;
    let end = from;
    while (end < to && (tops[end] ?? 0) < view.top + view.height) end++;
    from = Math.max(0, from - AHEAD);
    to = Math.min(to, end + AHEAD);
  }
  const shown = grid.rows.slice(from, to);
  const template = grid.columns.map((column) => `${column.width}px`).join(" ");
  const cell = active === undefined ? undefined : grid.rows[active.row]?.cells[active.col];
  const column = active === undefined ? undefined : grid.columns[active.col + shift];

  return (
    <div
      ref={box}
      className={styles.box}
      role="grid"
      aria-label={grid.caption}
      aria-rowcount={grid.rows.length + (grid.named ? 0 : 1)}
      aria-colcount={grid.columns.length}
      data-grid={grid.id}
      data-printing={printing || undefined}
      tabIndex={active === undefined && grid.rows.length > 0 ? 0 : -1}
      onFocus={(event) => {
        if (event.target === box.current && grid.rows.length > 0) activate(0, 0);
      }}
    >
      {grid.named ? null : (
        <div
          className={styles.head}
          role="row"
          tabIndex={-1}
          style={{ gridTemplateColumns: template, width, height: headHeight }}
        >
          {grid.columns.map(({ label, unit, numeric, derived }, col) => (
            <span
              // biome-ignore lint/suspicious/noArrayIndexKey: columns never change places
              key={col}
              role="columnheader"
              tabIndex={-1}
              className={styles.heading}
              data-numeric={numeric || undefined}
              data-derived={derived || undefined}
            >
              {label}
              {unit === undefined ? null : <small> {unit}</small>}
            </span>
          ))}
        </div>
      )}
      <div className={styles.sheet} style={{ height: printing ? undefined : (tops.at(-1) ?? 0), width }}>
        {shown.map((row, place) => (
          <Row
            // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place in the plan's list
            key={from + place}
            row={row}
            at={from + place}
            top={tops[from + place] ?? 0}
            height={rowHeight}
            noteHeight={noteHeight}
            template={template}
            width={width}
            grid={grid}
            notes={notes[from + place] ?? NO_NOTES}
            marks={marks}
            picked={picked === from + place}
            activeCol={active?.row === from + place ? active.col : undefined}
            onPressed={pressed}
          />
        ))}
        {active === undefined || cell === undefined || column === undefined ? null : (
          <CellField
            cell={cell}
            row={grid.rows[active.row]?.name ?? ""}
            problems={marks.get(cell.at) ?? []}
            fixed={active.col + shift === 0}
            box={{
              left: lefts[active.col + shift] ?? 0,
              top: tops[active.row] ?? 0,
              width: column.width,
              height: rowHeight,
            }}
            optionsAbove={(tops[active.row] ?? 0) - view.top > view.height / 2}
            page={Math.max(1, Math.floor(view.height / rowHeight) - 2)}
            options={optionsOf}
            last={active.row === grid.rows.length - 1 && active.col === grid.columns.length - 1 - shift}
            first={active.row === 0 && active.col === 0}
            go={(down, across) => {
              const columns = grid.columns.length - shift;
              const next = active.col + across;
              if (Math.abs(across) === 1 && next >= columns) activate(active.row + 1, 0);
              else if (Math.abs(across) === 1 && next < 0 && active.row > 0)
                activate(active.row - 1, columns - 1);
              else activate(active.row + down, next);
            }}
            onPaste={onPaste}
          />
        )}
      </div>
    </div>
  );
}

const Row = memo(function Row(props: {
  readonly row: GridRow;
  readonly at: number;
  readonly top: number;
  readonly height: number;
  readonly noteHeight: number;
  readonly template: string;
  readonly width: number;
  readonly grid: Grid;
  readonly notes: readonly Note[];
  readonly marks: ReadonlyMap<string, readonly Problem[]>;
  readonly picked: boolean;
  readonly activeCol: number | undefined;
  readonly onPressed: (event: PointerEvent, row: number, col: number) => void;
}) {
  const { row, at, grid, notes } = props;
  return (
    <div
      className={styles.row}
      data-row={row.name}
      data-picked={props.picked || undefined}
      data-active={props.activeCol !== undefined || undefined}
      style={{ "--top": `${props.top}px`, width: props.width } as CSSProperties}
    >
      <div
        role="row"
        tabIndex={-1}
        aria-rowindex={at + (grid.named ? 1 : 2)}
        className={styles.cells}
        style={{ gridTemplateColumns: props.template, height: props.height }}
      >
        {grid.named ? (
          <span role="rowheader" tabIndex={-1} className={styles.cell} data-first>
            {row.name}
          </span>
        ) : null}
        {row.cells.map((cell, col) => {
          const there = props.marks.get(cell.at);
          return (
            <span
              key={cell.at}
              role="gridcell"
              tabIndex={-1}
              className={styles.cell}
              data-at={cell.at}
              data-first={(!grid.named && col === 0) || undefined}
              data-numeric={(cell.kind !== "text" && !grid.named) || undefined}
              data-derived={cell.derived || undefined}
              data-problem={there?.[0]?.severity}
              aria-selected={props.activeCol === col}
              aria-readonly={cell.derived || undefined}
              title={cell.derived ? cell.text : undefined}
              onPointerDown={(event) => props.onPressed(event, at, col)}
            >
              {there === undefined ? null : <Mark severity={there[0]?.severity ?? "error"} />}
              <span className={styles.text}>{cell.text}</span>
            </span>
          );
        })}
      </div>
      {notes.slice(0, MOST_NOTES).map(({ cell, problem }, place) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: as many as are shown, in their order
        <p key={place} className={styles.note} data-note={cell.at} style={{ height: props.noteHeight }}>
          <Mark severity={problem.severity} /> <strong>{cell.label}</strong> {problem.message}
          {place === MOST_NOTES - 1 && notes.length > MOST_NOTES ? (
            <em> {say("edit.problem.more", { count: notes.length - MOST_NOTES })}</em>
          ) : null}
        </p>
      ))}
    </div>
  );
});

/** A fault: an exclamation mark in a filled field; a remark: one in an open field. */
export function Mark({ severity }: { readonly severity: Problem["severity"] }) {
  return (
    <span
      className={styles.mark}
      data-severity={severity}
      role="img"
      aria-label={say(severity === "error" ? "edit.problem.error" : "edit.problem.warning")}
    >
      !
    </span>
  );
}
