/** The rows: how many tabs each has, and what its lower lines carry. */
import { Fragment, useId } from "react";
import type { Row } from "../../../plan/model.ts";
import { listed, say } from "../../../words/index.ts";
import {
  cascadeOf,
  type RowForm,
  rowForms,
  spelledOut,
  type Unit,
  unitsOf,
  withRow,
} from "../../model/build-rows.ts";
import { offsetOf, rowOfHead, statementsIn } from "../../model/build-statements.ts";
import styles from "./Build.module.css";
import { builder, type Drawn } from "./builder.ts";
import { Field } from "./Field.tsx";
import { MiniCascade } from "./MiniCascade.tsx";

const USUAL_UNIT: Readonly<Record<Row, string>> = {
  A: "2+2",
  B: "2+2",
  C: "2+2",
  D: "2+2",
  tip: "2",
  brake: "*(2+2)",
};
const USUAL_TABS = 12;

/** Writes a row and sets the caret on it, so that its lines stand out in the drawing. */
function writeRow(row: Row, cascade: string | undefined, of: string, on?: string): void {
  const state = builder.getState();
  const text = withRow(spelledOut(state.text), row, cascade, on);
  const line = statementsIn(text).find(({ head }) => rowOfHead(head) === row)?.line;
  state.write(text, of, line === undefined ? undefined : offsetOf(text, line));
}

const unitNamed = (row: Row, id: string | undefined): Unit =>
  (unitsOf(row).find((unit) => unit.id === (id ?? USUAL_UNIT[row])) ?? unitsOf(row)[0]) as Unit;

export function BuildRows({ drawn }: { readonly drawn: Drawn }) {
  const forms = rowForms(drawn.draft);
  const anchors = drawn.draft.rig.maillons.map(({ id }) => id);
  const [a] = forms;
  const others = forms.filter(
    ({ row, state }) => ["B", "C", "D"].includes(row) && (state === "unit" || state === "hand"),
  );
  return (
    <div className={styles.rows}>
      <div className={styles.rowsHead}>
        <h3>{say("build.form.rows")}</h3>
        {a?.state === "unit" && others.length > 0 ? (
          <button
            type="button"
            className={styles.small}
            data-do="alike"
            onClick={() => {
              const state = builder.getState();
              const unit = unitNamed("A", a.unit);
              let text = spelledOut(state.text);
              for (const { row } of others) text = withRow(text, row, cascadeOf(unit, a.tabs, row));
              state.write(text, "alike");
            }}
          >
            {say("build.form.alike")}
          </button>
        ) : null}
      </div>
      <div className={styles.rowGrid}>
        <span aria-hidden="true" />
        <span className={styles.label} aria-hidden="true">
          {say("build.form.tabsHead")}
        </span>
        <span className={styles.label} aria-hidden="true">
          {say("build.form.unitHead")}
        </span>
        {forms.map((form) => (
          <Fragment key={form.row}>
            <strong>{say("build.form.row", { row: form.row })}</strong>
            <TabCount form={form} anchors={anchors} />
            <Units form={form} anchors={anchors} />
          </Fragment>
        ))}
      </div>
    </div>
  );
}

/** A tip line hangs on another row's riser; the B riser where there is one. */
function placeFor(row: Row, form: RowForm, anchors: readonly string[]): string | undefined {
  if (row !== "tip" || form.state !== "none") return undefined;
  return anchors.find((id) => id === "B") ?? anchors[0] ?? "B";
}

function TabCount({ form, anchors }: { readonly form: RowForm; readonly anchors: readonly string[] }) {
  const { row, state, tabs, unit } = form;
  if (state === "on") return <span className={styles.figure}>{tabs}</span>;
  return (
    <Field
      label={say("build.form.tabs", { row })}
      bare
      numeric
      value={tabs === 0 ? "" : String(tabs)}
      field={row === "A" ? "rows" : `tabs ${row}`}
      onText={(text) => {
        const count = text.trim() === "" ? 0 : Number(text);
        if (!Number.isInteger(count) || count < 0 || count > 40) return;
        const cascade = count === 0 ? undefined : cascadeOf(unitNamed(row, unit), count, row);
        writeRow(row, cascade, `tabs ${row}`, placeFor(row, form, anchors));
      }}
    />
  );
}

function Units({ form, anchors }: { readonly form: RowForm; readonly anchors: readonly string[] }) {
  const name = useId();
  const { row, state, unit, tabs, carriedBy } = form;
  if (state === "on")
    return <span className={styles.rowNote}>{say("build.form.carried", { rows: listed(carriedBy) })}</span>;
  const choose = (id: string): void => {
    const chosen = unitNamed(row, id);
    const usual = row === "tip" ? 2 : USUAL_TABS;
    writeRow(
      row,
      cascadeOf(chosen, tabs === 0 ? usual : tabs, row),
      `unit ${row} ${id}`,
      placeFor(row, form, anchors),
    );
  };
  return (
    <div className={styles.unitsRoom}>
      <fieldset className={styles.units}>
        <legend className="unseen">{say("build.form.unit", { row })}</legend>
        {unitsOf(row).map((each) => (
          <label key={each.id} title={`${each.id}: ${say(each.name)}`}>
            <input
              type="radio"
              name={name}
              checked={unit === each.id}
              aria-label={say(each.name)}
              data-unit={`${row} ${each.id}`}
              onChange={() => choose(each.id)}
            />
            <span className={styles.unit}>
              <MiniCascade
                cascade={each.together ? `3*${each.carries}` : each.carries}
                row={row}
                width={each.id === "(2+2)+(2+2)" || each.together ? 36 : 26}
                height={26}
              />
            </span>
          </label>
        ))}
      </fieldset>
      {state === "hand" ? <span className={styles.rowNote}>{say("build.form.hand")}</span> : null}
      {row === "tip" && state !== "none" ? (
        <label className={styles.on}>
          <span>{say("build.form.on")}</span>
          <select
            aria-label={say("build.form.onOf")}
            value={form.on ?? ""}
            onChange={(event) => {
              const state = builder.getState();
              const entry = statementsIn(spelledOut(state.text)).find(
                ({ head }) => rowOfHead(head) === "tip",
              );
              if (entry !== undefined) writeRow("tip", entry.body, "on", event.target.value);
            }}
          >
            {[...new Set([...(form.on === undefined ? [""] : []), ...anchors, form.on ?? ""])].map((id) => (
              <option key={id} value={id}>
                {id}
              </option>
            ))}
          </select>
        </label>
      ) : null}
    </div>
  );
}
