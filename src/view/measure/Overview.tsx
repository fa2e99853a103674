/** The session as a whole: what is read and what is left, the order, what can be taken back, how one is asked, and the way out. */
import { useState } from "react";
import type { Wing } from "../../plan/model.ts";
import type { Progress } from "../../readings/session/index.ts";
import { fromUnit, inUnit, lengthUnitName, say } from "../../words/index.ts";
import { ARRANGEMENTS, arranged } from "../model/measure-order.ts";
import { backwards, entryWords } from "../model/measure-told.ts";
import { CautionLine } from "../panes/Caution.tsx";
import type { KeptSession } from "../state/measure.ts";
import { measure } from "../state/measure-app.ts";
import { LineMap } from "./LineMap.tsx";
import { MeterPart } from "./MeterPart.tsx";
import styles from "./Overview.module.css";
import { ProgressTable } from "./ProgressPart.tsx";
import { WayOut } from "./WayOut.tsx";
import { WaysPart } from "./WaysPart.tsx";

/** How many entries the list of what can be taken back goes back. */
const BACK = 8;

export function Overview(props: {
  readonly kept: KeptSession;
  readonly plan: Wing;
  readonly progress: Progress;
  /** False where it stands above already, as nothing is left to ask. */
  readonly hasWayOut: boolean;
  /** After a line was chosen. */
  readonly onGone: () => void;
}) {
  const { kept, plan, progress, hasWayOut, onGone } = props;
  const { session } = kept;
  const back = backwards(session, BACK);
  return (
    <div className={styles.overview} data-overview>
      <OrderPart kept={kept} plan={plan} />
      <ProgressTable session={session} progress={progress} />
      <LineMap session={session} plan={plan} onGone={onGone} />
      <details className={styles.fold} data-fold="back">
        <summary>{say("measure.back.title")}</summary>
        <div className={styles.folded}>
          {back.length === 0 ? (
            <p>{say("measure.back.nothing")}</p>
          ) : (
            <ol className={styles.back}>
              {back.map((entry, i) => (
                <li key={entry.n}>
                  <span>{entryWords(entry)}</span>
                  {i === 0 ? (
                    <button
                      type="button"
                      className={styles.button}
                      data-action="take back"
                      onClick={() => void measure.getState().undo()}
                    >
                      {say("measure.back.take")}
                    </button>
                  ) : null}
                </li>
              ))}
            </ol>
          )}
        </div>
      </details>
      <details className={styles.fold} data-fold="zero">
        <summary>{say("measure.zero.title")}</summary>
        <ZeroPart kept={kept} />
      </details>
      <MeterPart />
      <WaysPart />
      {hasWayOut ? <WayOut kept={kept} progress={progress} /> : null}
      <CautionLine />
    </div>
  );
}

export function OrderPart({ kept, plan }: { readonly kept: KeptSession; readonly plan: Wing }) {
  const { order } = kept.session.state;
  return (
    <label className={styles.order}>
      <span>{say("measure.order")}</span>
      <select
        data-input="order"
        value={order.name}
        onChange={({ target }) => {
          const name = ARRANGEMENTS.find((one) => one === target.value);
          if (name !== undefined) void measure.getState().reorder(arranged(plan, order.steps, name));
        }}
      >
        {order.name === "own" ? (
          <option value="own">{say("measure.order.name", { order: "own" })}</option>
        ) : null}
        {ARRANGEMENTS.map((name) => (
          <option key={name} value={name}>
            {say("measure.order.name", { order: name })}
          </option>
        ))}
      </select>
    </label>
  );
}

function ZeroPart({ kept }: { readonly kept: KeptSession }) {
  const { instrumentZeroM } = kept.session.state.frame;
  const [typed, setTyped] = useState<string>();
  const shown = typed ?? String(Number(inUnit(instrumentZeroM).toFixed(3)));
  const value = shown.trim() === "" ? Number.NaN : Number(shown.replace(",", ".").replace("−", "-"));
  const zeroM = fromUnit(value);
  const isSound = Number.isFinite(zeroM) && Math.abs(zeroM) <= 2;
  const put = (fromHere: boolean): void => {
    void measure.getState().changeFrame({ instrumentZeroM: zeroM }, fromHere);
    setTyped(undefined);
  };
  return (
    <div className={styles.folded}>
      <p>{say("measure.zero.why")}</p>
      <label>
        {say("measure.zero", { unit: lengthUnitName() })}
        <input
          type="text"
          inputMode="decimal"
          data-input="zero now"
          value={shown}
          aria-invalid={!isSound}
          onChange={({ target }) => setTyped(target.value)}
        />
      </label>
      <p className={styles.line}>
        <button type="button" className={styles.button} disabled={!isSound} onClick={() => put(true)}>
          {say("measure.zero.fromHere")}
        </button>
        <button type="button" className={styles.button} disabled={!isSound} onClick={() => put(false)}>
          {say("measure.zero.all")}
        </button>
      </p>
    </div>
  );
}
