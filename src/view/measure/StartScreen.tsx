/** Before a session: those that were begun, and what a new one is to read, in which order and with what. */
import { type FormEvent, useMemo, useState } from "react";
import { type Row, SIDES, type Side, type Wing } from "../../plan/model.ts";
import { type CheckFrame, defaultFrame } from "../../readings/frame.ts";
import { fromUnit, lengthUnitName, say } from "../../words/index.ts";
import { MOST_TENSION_N, MOST_ZERO_M } from "../model/intake-frame.ts";
import {
  ARRANGEMENTS,
  type Arrangement,
  allPaths,
  orderOf,
  rowsOfWing,
  tiersOfWing,
  type Wanted,
  WHATS,
} from "../model/measure-order.ts";
import { toggled } from "../model/picked.ts";
import { CautionLine } from "../panes/Caution.tsx";
import panes from "../panes/Panes.module.css";
import { OneOf, SomeOf } from "../parts/Choice.tsx";
import type { Document } from "../state/document.ts";
import { measure, useMeasure } from "../state/measure-app.ts";
import { KeepingNote } from "./KeepingNote.tsx";
import { BringJournal, KeptList } from "./KeptList.tsx";
import { MeterPart } from "./MeterPart.tsx";
import overview from "./Overview.module.css";
import styles from "./Start.module.css";
import { WaysPart } from "./WaysPart.tsx";

export function StartScreen({ document }: { readonly document: Document }) {
  return (
    <div className={styles.start} data-measure="start">
      <KeepingNote />
      <KeptList document={document} />
      <StartForm document={document} />
      <BringJournal document={document} />
      <CautionLine />
    </div>
  );
}

/** Today where the person is, not in Greenwich. */
function today(): string {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function numberOf(typed: string): number {
  const plain = typed.trim().replace(",", ".").replace("−", "-");
  return plain === "" ? Number.NaN : Number(plain);
}

const NEWTONS_PER_DAN = 10;

interface Answers {
  readonly date: string;
  readonly tensionDaN: string;
  readonly from: CheckFrame["from"];
  readonly zero: string;
  readonly instrument: string;
}

function frameOf(plan: Wing, answers: Answers): CheckFrame | undefined {
  const tensionN = numberOf(answers.tensionDaN) * NEWTONS_PER_DAN;
  const zeroM = fromUnit(numberOf(answers.zero));
  if (!/^\d{4}-\d{2}-\d{2}$/.test(answers.date) || Number.isNaN(Date.parse(answers.date))) return undefined;
  if (!(tensionN > 0 && tensionN <= MOST_TENSION_N) || !(Math.abs(zeroM) <= MOST_ZERO_M)) return undefined;
  const instrument = answers.instrument.trim();
  return {
    ...defaultFrame(plan, answers.date),
    tensionN,
    from: answers.from,
    instrumentZeroM: zeroM,
    instrument: instrument === "" ? undefined : instrument,
  };
}

function StartForm({ document }: { readonly document: Document }) {
  const { plan, source } = document;
  const sessions = useMeasure((state) => state.sessions);
  const [answers, setAnswers] = useState<Answers>(() => ({
    date: today(),
    tensionDaN: String(plan.reference.tensionN / NEWTONS_PER_DAN),
    from: plan.reference.from,
    zero: "0",
    instrument: sessions.at(-1)?.session.state.frame.instrument ?? "",
  }));
  const [arrangement, setArrangement] = useState<Arrangement>("pairs");
  const [wanted, setWanted] = useState<Wanted>(() => allPaths(plan));
  const answer = (change: Partial<Answers>): void => setAnswers({ ...answers, ...change });
  const want = (change: Partial<Wanted>): void => setWanted({ ...wanted, ...change });
  const frame = frameOf(plan, answers);
  const order = useMemo(() => orderOf(plan, wanted, arrangement), [plan, wanted, arrangement]);
  const count = order.steps.length;
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (frame === undefined || count === 0) return;
    // What is kept isn't to be cleared away when the disk gets full; the browser may ask the person.
    void navigator.storage?.persist?.().catch(() => false);
    void measure.getState().start(plan, source, frame, order);
  };
  return (
    <form className={styles.form} onSubmit={submit} data-form="session">
      <h2>{say("measure.start.title", { wing: plan.name })}</h2>
      <p>{say("measure.start.what")}</p>
      <div className={panes.fields}>
        <label>
          {say("intake.frame.date")}
          <input
            type="date"
            required
            value={answers.date}
            onChange={({ target }) => answer({ date: target.value })}
          />
        </label>
        <label>
          {say("measure.start.tension")}
          <input
            type="text"
            inputMode="decimal"
            data-input="tension"
            value={answers.tensionDaN}
            aria-invalid={!(numberOf(answers.tensionDaN) > 0)}
            onChange={({ target }) => answer({ tensionDaN: target.value })}
          />
        </label>
        <label>
          {say("intake.frame.from")}
          <select
            data-input="from"
            value={answers.from}
            onChange={({ target }) => answer({ from: target.value === "maillon" ? "maillon" : "riser" })}
          >
            <option value="riser">{say("intake.frame.from.riser")}</option>
            <option value="maillon">{say("intake.frame.from.maillon")}</option>
          </select>
        </label>
        <label>
          {say("measure.zero", { unit: lengthUnitName() })}
          <input
            type="text"
            inputMode="decimal"
            data-input="zero"
            value={answers.zero}
            aria-invalid={Number.isNaN(numberOf(answers.zero))}
            onChange={({ target }) => answer({ zero: target.value })}
          />
        </label>
        <label className={styles.broad}>
          {say("intake.frame.instrument")}
          <input
            type="text"
            maxLength={200}
            data-input="instrument"
            value={answers.instrument}
            onChange={({ target }) => answer({ instrument: target.value })}
          />
        </label>
      </div>
      <WantedFields plan={plan} wanted={wanted} onChange={want} />
      <label className={overview.order}>
        <span>{say("measure.order")}</span>
        <select
          data-input="order"
          value={arrangement}
          onChange={({ target }) =>
            setArrangement(ARRANGEMENTS.find((name) => name === target.value) ?? "pairs")
          }
        >
          {ARRANGEMENTS.map((name) => (
            <option key={name} value={name}>
              {say("measure.order.name", { order: name })}
            </option>
          ))}
        </select>
      </label>
      <WaysPart />
      <MeterPart />
      {frame === undefined ? <p className={panes.warning}>{say("measure.start.wanting")}</p> : null}
      <p className={overview.line}>
        <button
          type="submit"
          className={panes.button}
          data-action="start"
          disabled={frame === undefined || count === 0}
        >
          {say("measure.start.go")}
        </button>
        <span data-count={count}>{say("measure.start.count", { count })}</span>
      </p>
    </form>
  );
}

function WantedFields(props: {
  readonly plan: Wing;
  readonly wanted: Wanted;
  readonly onChange: (change: Partial<Wanted>) => void;
}) {
  const { plan, wanted, onChange } = props;
  return (
    <div className={styles.wanted}>
      <OneOf
        legend={say("measure.wanted")}
        options={WHATS.map((value) => ({ value, label: say("measure.wanted.what", { what: value }) }))}
        value={wanted.what}
        onChange={(what) => onChange({ what })}
      />
      <SomeOf<Row>
        legend={say("measure.wanted.rows")}
        options={rowsOfWing(plan).map((row) => ({ value: row, label: say("measure.row", { row }) }))}
        value={wanted.rows}
        onToggle={(row) => onChange({ rows: toggled(wanted.rows, row) })}
      />
      <SomeOf<Side>
        legend={say("measure.wanted.sides")}
        options={SIDES.map((side) => ({ value: side, label: say("measure.sideLabel", { side }) }))}
        value={wanted.sides}
        onToggle={(side) => onChange({ sides: toggled(wanted.sides, side) })}
      />
      {wanted.what === "paths" ? null : (
        <SomeOf
          legend={say("measure.wanted.tiers")}
          options={tiersOfWing(plan).map((tier) => ({
            value: String(tier),
            label: say("measure.tier", { tier }),
          }))}
          value={new Set([...wanted.tiers].map(String))}
          onToggle={(tier) => onChange({ tiers: toggled(wanted.tiers, Number(tier)) })}
        />
      )}
    </div>
  );
}
