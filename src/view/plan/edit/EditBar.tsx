/** What is done to the table as a whole: rows added and taken out, totals brought in step, undo. */
import { useMemo, useState } from "react";
import {
  type Above,
  addOps,
  addTabOps,
  halvesOf,
  hangingAbove,
  listPath,
  removeLineOps,
  removeOps,
  sidesApartOps,
  totalsInStepOps,
} from "../../../plan/edit-plan.ts";
import { type EditOp, listAt } from "../../../plan/edit-steps.ts";
import { say } from "../../../words/index.ts";
import { GRIDS_OF, LIST_GRIDS } from "../../model/edit-columns.ts";
import { tableText } from "../../model/edit-paste.ts";
import { type Grid, gridOf } from "../../model/edit-tables.ts";
import { OneOf } from "../../parts/Choice.tsx";
import styles from "./Edit.module.css";
import { editor, useEditor } from "./editor.ts";

export function EditBar({
  grids,
  onSaid,
}: {
  readonly grids: readonly Grid[];
  readonly onSaid: (text: string) => void;
}) {
  const plan = useEditor((state) => state.plan);
  const half = useEditor((state) => state.half);
  const table = useEditor((state) => state.table);
  const active = useEditor((state) => state.active);
  const undoable = useEditor((state) => state.past.length > 0 || state.typing !== undefined);
  const redoable = useEditor((state) => state.future.length > 0);
  const withTwin = useEditor((state) => state.withTwin);
  const [asking, setAsking] = useState<{ readonly id: string; readonly above: Above }>();
  const { step, undo, redo, show, activate } = editor.getState();

  const grid = grids.find(({ id }) => id === active?.grid) ?? grids.find(({ list }) => list !== undefined);
  const row = active !== undefined && active.grid === grid?.id ? active.row : undefined;
  const member =
    grid?.list === undefined || row === undefined ? undefined : listAt(plan, listPath(grid.list, half))[row];
  const name = typeof member?.id === "string" ? member.id : say("edit.unnamed");
  const halves = halvesOf(plan);
  const totals = useMemo(() => totalsInStepOps(plan), [plan]);

  const add = (): void => {
    const list = grid?.list;
    if (list === undefined) return;
    editor.getState().settle();
    const ops = addOps(editor.getState().plan, list, half, row ?? 1e6);
    step(ops);
    const [op] = ops;
    if (op?.op === "insert") activate({ grid: grid?.id ?? "lines", row: op.index, col: 0 }, true);
  };
  const addTab = (): void => {
    if (member === undefined) return;
    step(addTabOps(plan, half, member));
  };
  const take = (ops: readonly EditOp[]): void => {
    step(ops);
    setAsking(undefined);
    activate(undefined);
  };
  const remove = (): void => {
    if (grid?.list === undefined || row === undefined) return;
    const above =
      grid.list === "lines" && typeof member?.id === "string"
        ? hangingAbove(plan, half, member.id)
        : undefined;
    if (above !== undefined && above.lines.length + above.tabs.length > 0) setAsking({ id: name, above });
    else take(removeOps(plan, listPath(grid.list, half), row));
  };
  const still = asking !== undefined && asking.id === name && row !== undefined ? asking : undefined;

  return (
    <div className={styles.bar} data-bar>
      <div className={styles.buttons}>
        <button type="button" disabled={!undoable} data-do="undo" onClick={undo}>
          {say("edit.undo")}
        </button>
        <button type="button" disabled={!redoable} data-do="redo" onClick={redo}>
          {say("edit.redo")}
        </button>
        {grid?.list === undefined ? null : (
          <button type="button" data-do="add" onClick={add}>
            {say("edit.add", { list: grid.list })}
          </button>
        )}
        {grid?.list === "lines" && member !== undefined ? (
          <button type="button" data-do="add-tab" onClick={addTab}>
            {say("edit.addTab", { id: name })}
          </button>
        ) : null}
        {grid?.list === undefined || member === undefined ? null : (
          <button type="button" data-do="remove" onClick={remove}>
            {say("edit.remove", { id: name })}
          </button>
        )}
        {totals.length === 0 || (table !== "lines" && table !== "tabs") ? null : (
          <button
            type="button"
            data-do="totals"
            onClick={() => step(totalsInStepOps(editor.getState().plan))}
          >
            {say("edit.totals", { count: totals.length })}
          </button>
        )}
        <button
          type="button"
          data-do="copy"
          onClick={() => {
            const of = grid ?? gridOf(plan, GRIDS_OF[table][0] ?? "lines", half);
            void navigator.clipboard?.writeText(tableText(of));
            onSaid(say("edit.copied", { rows: of.rows.length }));
          }}
        >
          {say("edit.copy")}
        </button>
      </div>
      {still === undefined ? null : (
        <div className={styles.asks} role="alert" data-asks="remove">
          <p>
            {say("edit.remove.asks", {
              id: still.id,
              lines: still.above.lines.length,
              tabs: still.above.tabs.length,
              both: still.above.lines.length > 0 && still.above.tabs.length > 0 ? "yes" : "no",
              names: [
                ...still.above.lines,
                ...still.above.tabs.map((id) => say("edit.carriesTab", { id })),
              ].join(", "),
            })}
          </p>
          <div className={styles.buttons}>
            <button
              type="button"
              data-do="remove-all"
              onClick={() => take(removeLineOps(plan, half, row ?? -1, true))}
            >
              {say("edit.remove.all")}
            </button>
            <button
              type="button"
              data-do="remove-alone"
              onClick={() => take(removeLineOps(plan, half, row ?? -1, false))}
            >
              {say("edit.remove.alone", { id: still.id })}
            </button>
            <button type="button" onClick={() => setAsking(undefined)}>
              {say("edit.remove.not")}
            </button>
          </div>
        </div>
      )}
      {table in LIST_GRIDS && (table === "lines" || table === "tabs") ? (
        <div className={styles.sides}>
          {halves.includes("mirrored") ? (
            <>
              <span>{say("edit.both")}</span>
              <button
                type="button"
                data-do="apart"
                onClick={() => step(sidesApartOps(editor.getState().plan))}
              >
                {say("edit.apart")}
              </button>
            </>
          ) : (
            <>
              <OneOf
                legend={say("edit.side")}
                options={[
                  { value: "left" as const, label: say("edit.side.left") },
                  { value: "right" as const, label: say("edit.side.right") },
                ]}
                value={half === "right" ? "right" : "left"}
                onChange={(next) => {
                  editor.getState().settle();
                  show({ half: next });
                }}
              />
              <label className={styles.twin}>
                <input
                  type="checkbox"
                  checked={withTwin}
                  onChange={(event) => show({ withTwin: event.target.checked })}
                />
                {say("edit.twin")}
              </label>
            </>
          )}
        </div>
      ) : null}
    </div>
  );
}
