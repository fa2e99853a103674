/** The plan's tables: typed into, checked while typing, each step taken back, held against the last version, used. */
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { Problem } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { GRIDS_OF, TABLES, type TableId } from "../model/edit-columns.ts";
import { blockOf, pasteOps } from "../model/edit-paste.ts";
import { type Cell, type Grid, gridOf, optionsOf } from "../model/edit-tables.ts";
import { CautionLine } from "../panes/Caution.tsx";
import { OneOf } from "../parts/Choice.tsx";
import { useApp } from "../state/app.ts";
import styles from "./edit/Edit.module.css";
import { EditBar } from "./edit/EditBar.tsx";
import { EditChanges } from "./edit/EditChanges.tsx";
import { EditProblems, ProblemText } from "./edit/EditProblems.tsx";
import { editor, pickRow, useChecked, useEditor, useEditUndo, useOrigins } from "./edit/editor.ts";
import { GridTable } from "./edit/GridTable.tsx";
import { UsePlan } from "./edit/UsePlan.tsx";

const NO_MARKS: ReadonlyMap<string, readonly Problem[]> = new Map();

export function EditPart() {
  const document = useApp((state) => state.document);
  const source = document?.source;
  const text = document?.files.plan.text;
  useEffect(() => {
    if (source !== undefined && text !== undefined) editor.getState().open(source, text);
  }, [source, text]);
  const ready = useEditor((state) => state.plan !== undefined && state.of === source);
  if (source === undefined || text === undefined || !ready)
    return <p className={styles.wait}>{say("edit.noPlan")}</p>;
  return <Editor text={text} />;
}

function Editor({ text }: { readonly text: string }) {
  const root = useRef<HTMLDivElement>(null);
  const plan = useEditor((state) => state.plan);
  const half = useEditor((state) => state.half);
  const table = useEditor((state) => state.table);
  const active = useEditor((state) => state.active);
  const from = useEditor((state) => state.from);
  const edited = useEditor((state) => state.past.length > 0);
  const of = useEditor((state) => state.of);
  const kept = useEditor((state) => state.kept);
  const [said, setSaid] = useState("");
  const result = useChecked();
  const checked = result?.checked;
  const marks = checked?.marks ?? NO_MARKS;
  const origins = useOrigins();
  const lineOrigins = useMemo(() => origins("lines", half), [origins, half]);
  const grids = useMemo(() => GRIDS_OF[table].map((id) => gridOf(plan, id, half)), [plan, table, half]);
  useEditUndo(root);

  const picked = useApp(({ choices }) => (choices.picked.kind === "line" ? choices.picked.key : undefined));
  const pickedId = picked?.replace(/^\w+:/u, "");
  const pickedRow = pickedId === undefined ? -1 : lineOrigins.indexOf(pickedId);

  // A line picked in the 3D is shown on its own side.
  useEffect(() => {
    const side = picked?.startsWith("right:") ? "right" : "left";
    const { half: now, show } = editor.getState();
    if (picked !== undefined && now !== "mirrored" && now !== side) show({ half: side });
  }, [picked]);

  const options = useCallback(
    (cell: Cell) => (cell.options === undefined ? [] : optionsOf(plan, cell.options, half, cell.vocabulary)),
    [plan, half],
  );
  const pickOf = (grid: Grid) => (row: number) => {
    if (grid.list !== undefined) pickRow(grid.list, half, row, lineOrigins);
  };
  const pasteInto = (grid: Grid) => (block: string) => {
    const state = editor.getState();
    if (state.active === undefined) return;
    const pasted = pasteOps(state.plan, grid, blockOf(block), state.active, state.withTwin);
    state.unsettle();
    state.step(pasted.ops);
    setSaid(say("edit.pasted", { filled: pasted.filled, left: pasted.left }));
  };

  const cell = grids.find(({ id }) => id === active?.grid)?.rows[active?.row ?? -1]?.cells[active?.col ?? -1];
  const atCell = cell === undefined ? [] : (marks.get(cell.at) ?? []);
  return (
    <div
      ref={root}
      className={styles.editor}
      data-editor
      data-checked={result?.current ?? false}
      data-took={checked?.tookMs.toFixed(1)}
    >
      {from === text ? null : (
        <div className={styles.asks} data-asks="outdated">
          <p>{say("edit.outdated")}</p>
          <div className={styles.buttons}>
            <button type="button" onClick={() => of !== undefined && editor.getState().begin(of, text)}>
              {say("edit.outdated.begin")}
            </button>
          </div>
        </div>
      )}
      {kept || !edited ? null : <p className={styles.asks}>{say("edit.notKept")}</p>}
      <div className={styles.tables}>
        <OneOf
          legend={say("edit.tables")}
          options={TABLES.map((value) => ({ value, label: say(LABEL[value]) }))}
          value={table}
          onChange={(next) => {
            editor.getState().settle();
            editor.getState().show({ table: next });
          }}
        />
      </div>
      <EditBar grids={grids} onSaid={setSaid} />
      {grids.map((grid) => (
        <section key={grid.id} className={styles.gridRoom} data-alone={grids.length === 1 || undefined}>
          {grids.length > 1 ? <h2>{grid.caption}</h2> : null}
          <GridTable
            grid={grid}
            marks={marks}
            picked={grid.list === "lines" && pickedRow >= 0 ? pickedRow : undefined}
            optionsOf={options}
            onRow={pickOf(grid)}
            onPaste={pasteInto(grid)}
          />
        </section>
      ))}
      <div className={styles.here} aria-live="polite" data-here>
        {atCell.length > 0 ? (
          // biome-ignore lint/suspicious/noArrayIndexKey: a list that is made anew each time
          atCell.map((problem, index) => <ProblemText key={index} problem={problem} />)
        ) : said !== "" ? (
          <p>{said}</p>
        ) : (
          <p className={styles.keys}>{say("edit.keys")}</p>
        )}
      </div>
      <EditProblems
        problems={checked?.problems ?? []}
        errors={checked?.errors ?? 0}
        warnings={checked?.warnings ?? 0}
      />
      <EditChanges />
      <div className={styles.foot}>
        <UsePlan
          wing={checked?.wing}
          errors={checked?.errors ?? 0}
          current={result?.current ?? false}
          onSaid={setSaid}
        />
        <CautionLine />
      </div>
    </div>
  );
}

const LABEL = {
  lines: "edit.table.lines",
  tabs: "edit.table.tabs",
  hang: "edit.table.hang",
  materials: "edit.table.materials",
  wing: "edit.table.wing",
} as const satisfies Readonly<Record<TableId, string>>;
