/** Trying a length on the line that is picked: longer or shorter by the millimetre, on this line or on its twin as well. */
import { length, say, sayParts, signedLength } from "../words/index.ts";
import type { LineCard } from "./model/lineCard.ts";
import { lengthDivisions, spokenLength } from "./model/tape.ts";
import { TapeSlider } from "./parts/TapeSlider.tsx";
import styles from "./Readout.module.css";
import { useApp } from "./state/app.ts";
import { MOST_TRIAL_MM } from "./state/trials.ts";

/** Divisions of the tape, and what is written along it, in the unit that is set. */
const DIVISIONS = {
  mm: { tick: 1, labels: [-50, -40, -30, -20, -10, 0, 10, 20, 30, 40, 50], decimals: 0 },
  in: { tick: 0.05, labels: [-1.5, -1, -0.5, 0, 0.5, 1, 1.5], decimals: 1 },
};
const FEW_DIVISIONS = {
  mm: { tick: 2, labels: [-50, -30, -10, 10, 30, 50], decimals: 0 },
  in: { tick: 0.1, labels: [-1.5, -0.5, 0.5, 1.5], decimals: 1 },
};

/** Lengths are tried by the millimetre. */
const STEP_M = 0.001;

export function TrialTape({ card, narrow }: { readonly card: LineCard; readonly narrow: boolean }) {
  const mm = useApp(({ choices }) => choices.trials.get(card.key) ?? 0);
  const twinMm = useApp(({ choices }) =>
    card.mirrorKey === undefined ? 0 : (choices.trials.get(card.mirrorKey) ?? 0),
  );
  const withTwin = useApp((state) => state.withTwin);
  const setWithTwin = useApp((state) => state.setWithTwin);
  const tryOut = useApp((state) => state.tryOut);
  const { mirrorKey } = card;
  const keys = withTwin && mirrorKey !== undefined ? [card.key, mirrorKey] : [card.key];
  const set = (value: number): void => tryOut({ kind: "set", lineKeys: keys, mm: value });
  const { tick, labels, labelText } = lengthDivisions(narrow ? FEW_DIVISIONS : DIVISIONS);
  const change = (
    <output key="change" className="figures">
      {signedLength(mm * STEP_M)}
    </output>
  );
  const body = (
    <>
      <div className={styles.trialTape}>
        <button
          type="button"
          aria-label={say("frame.trial.shorter", { step: length(STEP_M) })}
          disabled={mm <= -MOST_TRIAL_MM}
          onClick={() => set(mm - 1)}
        >
          −
        </button>
        <TapeSlider
          name="trial"
          label={
            <span className={styles.trialLabel}>
              {narrow ? change : sayParts("frame.trial.label", { change })}
            </span>
          }
          min={-MOST_TRIAL_MM}
          max={MOST_TRIAL_MM}
          tick={tick}
          labels={labels}
          labelText={(value) => labelText(value, true)}
          reference={0}
          value={mm}
          valueText={spokenLength(mm)}
          onChange={set}
        />
        <button
          type="button"
          aria-label={say("frame.trial.longer", { step: length(STEP_M) })}
          disabled={mm >= MOST_TRIAL_MM}
          onClick={() => set(mm + 1)}
        >
          +
        </button>
      </div>
      <div className={styles.trialFoot}>
        {mirrorKey === undefined ? null : (
          <label className={styles.twinCheck}>
            <input
              type="checkbox"
              checked={withTwin}
              onChange={(event) => {
                setWithTwin(event.target.checked);
                if (event.target.checked && mm !== twinMm)
                  tryOut({ kind: "set", lineKeys: [card.key, mirrorKey], mm });
              }}
            />
            {say("frame.trial.twin", {
              now: twinMm === 0 || twinMm === mm ? "none" : signedLength(twinMm * STEP_M),
            })}
          </label>
        )}
        <button
          type="button"
          className={styles.letGo}
          disabled={mm === 0}
          onClick={() => tryOut({ kind: "remove", lineKeys: keys })}
        >
          {say("frame.trial.none")}
        </button>
      </div>
      <p className={styles.trialCaution} data-trial-caution>
        {say("frame.trial.caution")}
      </p>
    </>
  );
  if (narrow)
    return (
      <details className={`${styles.rest} ${styles.trialFold}`} data-trial={mm} open={mm !== 0 || undefined}>
        <summary>{say("frame.trial")}</summary>
        {body}
      </details>
    );
  return (
    <section className={styles.trial} aria-label={say("frame.trial")} data-trial={mm}>
      {body}
    </section>
  );
}
