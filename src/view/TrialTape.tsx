/** Trying a length on the line that is picked: longer or shorter by the millimetre, on this line or on its twin as well. */
import { signed } from "./model/format.ts";
import type { LineCard } from "./model/lineCard.ts";
import { TapeSlider } from "./parts/TapeSlider.tsx";
import styles from "./Readout.module.css";
import { useApp } from "./state/app.ts";
import { MOST_TRIAL_MM } from "./state/trials.ts";

const LABELS: readonly number[] = [-50, -40, -30, -20, -10, 0, 10, 20, 30, 40, 50];
const FEW_LABELS: readonly number[] = [-50, -30, -10, 10, 30, 50];

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
  const body = (
    <>
      <div className={styles.trialTape}>
        <button
          type="button"
          aria-label="1 mm shorter"
          disabled={mm <= -MOST_TRIAL_MM}
          onClick={() => set(mm - 1)}
        >
          −
        </button>
        <TapeSlider
          name="trial"
          label={
            <span className={styles.trialLabel}>
              {narrow ? "" : "Try a change: "}
              <output className="figures">{signed(mm, 0)} mm</output>
            </span>
          }
          min={-MOST_TRIAL_MM}
          max={MOST_TRIAL_MM}
          tick={narrow ? 2 : 1}
          labels={narrow ? FEW_LABELS : LABELS}
          labelText={(value) => signed(value, 0)}
          reference={0}
          value={mm}
          valueText={`${mm} millimetres`}
          onChange={set}
        />
        <button
          type="button"
          aria-label="1 mm longer"
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
            twin too{twinMm === 0 || twinMm === mm ? "" : ` (now ${signed(twinMm, 0)} mm)`}
          </label>
        )}
        <button
          type="button"
          className={styles.letGo}
          disabled={mm === 0}
          onClick={() => tryOut({ kind: "remove", lineKeys: keys })}
        >
          As it is
        </button>
      </div>
      <p className={styles.trialCaution} data-trial-caution>
        A calculation, no advice and no clearance to fly. Loops only within what the maker allows.
      </p>
    </>
  );
  if (narrow)
    return (
      <details className={`${styles.rest} ${styles.trialFold}`} data-trial={mm} open={mm !== 0 || undefined}>
        <summary>Try a change</summary>
        {body}
      </details>
    );
  return (
    <section className={styles.trial} aria-label="Try a change" data-trial={mm}>
      {body}
    </section>
  );
}
