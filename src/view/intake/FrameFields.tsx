/** Day, tension, datum and instrument: as the table states them, else as the plan suggests; any of it can be changed. */
import { useState } from "react";
import { fromUnit, inUnit, lengthUnitName, say } from "../../words/index.ts";
import { type FrameAnswers, withAnswers } from "../model/intake-draft.ts";
import { type FrameStart, frameShown, MOST_TENSION_N, MOST_ZERO_M } from "../model/intake-frame.ts";
import panes from "../panes/Panes.module.css";
import { changeDraft } from "../state/bring-files.ts";
import styles from "./Intake.module.css";

function answer(answers: FrameAnswers): void {
  changeDraft((draft) => withAnswers(draft, answers));
}

export function FrameFields({
  start,
  answers,
}: {
  readonly start: FrameStart;
  readonly answers: FrameAnswers;
}) {
  const { date, tensionN, from, zeroM, instrument } = frameShown(start, answers);
  return (
    <div className={panes.fields} data-frame>
      <label>
        {say("intake.frame.date")} <Source isStated={start.stated.has("date")} />
        <input
          type="date"
          required
          value={date ?? ""}
          onChange={(event) => answer({ date: event.target.value })}
        />
      </label>
      <NumberField
        label={say("intake.frame.tension")}
        isStated={start.stated.has("tension")}
        name="tension"
        value={tensionN ?? Number.NaN}
        min={1}
        max={MOST_TENSION_N}
        onChange={(newtons) => answer({ tensionN: newtons })}
      />
      <label>
        {say("intake.frame.from")} <Source isStated={start.stated.has("from")} />
        <select
          required
          value={from ?? ""}
          onChange={(event) => answer({ from: event.target.value === "maillon" ? "maillon" : "riser" })}
        >
          {from === undefined ? <option value="">{say("intake.choose")}</option> : null}
          <option value="riser">{say("intake.frame.from.riser")}</option>
          <option value="maillon">{say("intake.frame.from.maillon")}</option>
        </select>
      </label>
      <NumberField
        label={say("intake.frame.zero", { unit: lengthUnitName() })}
        isStated={start.stated.has("zero")}
        name="zero"
        value={Number(inUnit(zeroM ?? Number.NaN).toFixed(4))}
        min={inUnit(-MOST_ZERO_M)}
        max={inUnit(MOST_ZERO_M)}
        onChange={(value) => answer({ zeroM: fromUnit(value) })}
      />
      <label className={styles.broad}>
        {say("intake.frame.instrument")} <Source isStated={start.stated.has("instrument")} />
        <input
          type="text"
          maxLength={200}
          value={instrument ?? ""}
          onChange={(event) => answer({ instrument: event.target.value })}
        />
      </label>
    </div>
  );
}

function Source({ isStated }: { readonly isStated: boolean }) {
  return isStated ? <small>{say("intake.frame.stated")}</small> : null;
}

/** Kept as typed until it is left; NaN where it is no number. */
function NumberField(props: {
  readonly label: string;
  readonly isStated: boolean;
  readonly name: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly onChange: (value: number) => void;
}) {
  const [typed, setTyped] = useState<string>();
  return (
    <label>
      {props.label} <Source isStated={props.isStated} />
      <input
        type="number"
        inputMode="decimal"
        data-input={props.name}
        required
        min={props.min}
        max={props.max}
        step="any"
        value={typed ?? (Number.isNaN(props.value) ? "" : String(props.value))}
        onChange={(event) => {
          setTyped(event.target.value);
          props.onChange(event.target.value === "" ? Number.NaN : Number(event.target.value));
        }}
        onBlur={() => setTyped(undefined)}
      />
    </label>
  );
}
