/** What holds for the whole table: its sheet, its unit and decimal mark, and what the lengths are of. */
import { TABLE_UNITS, type Unit } from "../../readings/numbers.ts";
import type { ColumnRole } from "../../readings/tables/recognition.ts";
import { say } from "../../words/index.ts";
import { nameColumn } from "../model/intake-columns.ts";
import {
  type DraftTable,
  type TableDraft,
  withChanges,
  withColumn,
  withSheet,
} from "../model/intake-draft.ts";
import panes from "../panes/Panes.module.css";
import { changeDraft } from "../state/bring-files.ts";

/** A workbook's sheets; no choice where none can be told to be the one. */
export function SheetChoice({
  draft,
  index,
}: {
  readonly draft: TableDraft;
  readonly index: number | undefined;
}) {
  return (
    <div className={panes.fields}>
      <label>
        {say("intake.sheet")}
        <select
          data-input="sheet"
          value={index ?? ""}
          onChange={(event) => {
            const { value } = event.target;
            changeDraft((waiting) => withSheet(waiting, value === "" ? undefined : Number(value)));
          }}
        >
          {index === undefined ? <option value="">{say("intake.choose")}</option> : null}
          {draft.tables.map(({ source }, at) => {
            const name = source.kind === "sheet" ? source.name : String(at + 1);
            return (
              <option key={name} value={at}>
                {name}
              </option>
            );
          })}
        </select>
      </label>
    </div>
  );
}

export function TableSettings({ draft, found }: { readonly draft: TableDraft; readonly found: DraftTable }) {
  const { recognition, recognised } = found;
  const { changes } = draft;
  const names = nameColumn(recognition);
  const foundUnit = changes.unit === undefined ? recognition.unit : undefined;
  const foundMark = changes.mark === undefined ? recognition.decimalMark : undefined;
  return (
    <div className={panes.fields}>
      {recognised ? null : (
        <label>
          {say("intake.layout")}
          <select
            data-input="layout"
            value={changes.layout ?? "names"}
            onChange={(event) => {
              const layout = event.target.value === "matrix" ? "matrix" : "names";
              changeDraft((waiting) => withChanges(waiting, { layout, columns: new Map() }));
            }}
          >
            <option value="names">{say("intake.layout.names")}</option>
            <option value="matrix">{say("intake.layout.matrix")}</option>
          </select>
        </label>
      )}
      <label>
        {say("intake.unit")}
        <select
          data-input="table-unit"
          value={changes.unit ?? ""}
          onChange={(event) => {
            const unit = TABLE_UNITS.find((each) => each === event.target.value);
            changeDraft((waiting) => withChanges(waiting, { unit }));
          }}
        >
          <option value="">
            {foundUnit === undefined
              ? say("intake.unit.found")
              : say("intake.unit.foundAs", {
                  unit: foundUnit,
                  from: recognition.unitFrom === "plan" ? "plan" : "table",
                })}
          </option>
          {TABLE_UNITS.map((unit: Unit) => (
            <option key={unit} value={unit}>
              {unit}
            </option>
          ))}
        </select>
      </label>
      <label>
        {say("intake.mark")}
        <select
          data-input="decimal-mark"
          value={changes.mark ?? ""}
          onChange={(event) => {
            const { value } = event.target;
            const mark = value === "," || value === "." ? value : undefined;
            changeDraft((waiting) => withChanges(waiting, { mark }));
          }}
        >
          <option value="">
            {foundMark === undefined
              ? say("intake.mark.found")
              : say("intake.mark.foundAs", { mark: foundMark === "," ? "comma" : "point" })}
          </option>
          <option value=".">{say("intake.mark.point")}</option>
          <option value=",">{say("intake.mark.comma")}</option>
        </select>
      </label>
      {changes.numbering === undefined ? null : (
        <label>
          {say("intake.numbering")}
          <select
            data-input="numbering"
            value={changes.numbering}
            onChange={(event) => {
              const numbering = event.target.value === "names" ? "names" : "outwards";
              changeDraft((waiting) => withChanges(waiting, { numbering }));
            }}
          >
            <option value="outwards">{say("intake.ask.numbering.outwards")}</option>
            <option value="names">{say("intake.ask.numbering.names")}</option>
          </select>
        </label>
      )}
      {changes.measured ? (
        <label>
          {say("intake.holds")}
          <select
            data-input="holds"
            value="measured"
            onChange={() => changeDraft((waiting) => withChanges(waiting, { measured: false }))}
          >
            <option value="measured">{say("intake.holds.measured")}</option>
            <option value="specified">{say("intake.holds.specified")}</option>
          </select>
        </label>
      ) : null}
      {names === undefined ? null : (
        <label>
          {say("intake.of")}
          <select
            data-input="lengths-of"
            value={names.column.role}
            onChange={(event) => {
              const role = event.target.value as ColumnRole;
              const { section, column } = names;
              changeDraft((waiting) =>
                withColumn(waiting, section, column.index, { role, row: undefined, side: undefined }),
              );
            }}
          >
            <option value="tab">{say("intake.of.paths")}</option>
            <option value="line">{say("intake.of.lines")}</option>
            <option value="name">{say("intake.of.either")}</option>
          </select>
        </label>
      )}
    </div>
  );
}
