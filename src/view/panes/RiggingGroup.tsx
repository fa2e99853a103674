/** Trimmers, speed system, weight and brakes: each change is solved, for the wing as specified, as measured and as tried. */
import { useState } from "react";
import { meanIncidence } from "../../diagnosis/chord-mean.ts";
import { sayTravelApart } from "../../diagnosis/wording.ts";
import { SIDES } from "../../plan/model.ts";
import { riggingDifferences, riggingEffect, travelShort, travelText } from "../model/riggingText.ts";
import { TapeSlider } from "../parts/TapeSlider.tsx";
import { useApp, useLive } from "../state/app.ts";
import { AS_SPECIFIED, MOST_PULL_MM, referenceWeightKg } from "../state/rigging.ts";
import { useLineTravel } from "../state/travel.ts";
import styles from "./Mechanics.module.css";

export function RiggingGroup() {
  const wing = useApp((state) => state.document?.wing);
  const rigging = useApp(({ choices }) => choices.rigging);
  const rig = useApp((state) => state.rig);
  const unsolved = useApp((state) => state.unsolved);
  const live = useLive();
  const lineTravel = useLineTravel();
  const [together, setTogether] = useState(rigging.brakeMm.left === rigging.brakeMm.right);
  if (wing === undefined) return null;
  const differences = riggingDifferences(wing, rigging);
  const { min, max } = wing.allUpWeightKg;
  const weightKg = rigging.weightKg ?? referenceWeightKg(wing);
  const states = live?.states;
  const shownTravel = [
    { name: "As specified", travel: states?.travel.specified },
    { name: "As measured", travel: states?.travel.measured },
    { name: "As tried", travel: states?.travel.tried },
  ].flatMap(({ name, travel }) => {
    const text = travelText(travel);
    return text === undefined || travel === undefined
      ? []
      : [{ name, text, short: travelShort(travel, wing.tolerances.minBrakeFreeTravelM) }];
  });
  const effect =
    live === undefined
      ? undefined
      : riggingEffect(meanIncidence(live.asMeasured.model, live.states.conditionRibs));

  const pull = (side: (typeof SIDES)[number], mm: number): void =>
    rig({ brakeMm: together ? { left: mm, right: mm } : { ...rigging.brakeMm, [side]: mm } });

  return (
    <section className={styles.group} aria-labelledby="rigging" data-rigging={differences.join(", ")}>
      <header className={styles.groupHead}>
        <h2 id="rigging">Rigging</h2>
        <button
          type="button"
          className={styles.text}
          disabled={differences.length === 0}
          onClick={() => rig(AS_SPECIFIED)}
        >
          Back to trim
        </button>
      </header>
      <p className={styles.differs} aria-live="polite">
        {differences.length === 0
          ? "As the plan’s lengths are given: reference setting, hands up."
          : `${differences.join(", ")}.`}
      </p>
      {wing.settings.map(({ id, name }) => {
        const percent = rigging.percent[id] ?? 0;
        return (
          <TapeSlider
            key={id}
            name={`rig-${id}`}
            label={
              <>
                {name} <output className="figures">{percent} %</output>
              </>
            }
            min={0}
            max={100}
            tick={2}
            labels={[0, 20, 40, 60, 80, 100]}
            value={percent}
            valueText={`${percent} percent of its travel`}
            onChange={(value) => rig({ percent: { ...rigging.percent, [id]: value } })}
          />
        );
      })}
      {max > min ? (
        <TapeSlider
          name="rig-weight"
          label={
            <>
              All-up weight <output className="figures">{weightKg} kg</output>
            </>
          }
          min={Math.ceil(min)}
          max={Math.floor(max)}
          tick={1}
          labels={[Math.ceil(min), Math.floor(max)]}
          reference={referenceWeightKg(wing)}
          value={Math.round(weightKg)}
          valueText={`${weightKg} kilograms`}
          onChange={(value) => rig({ weightKg: value === referenceWeightKg(wing) ? undefined : value })}
        />
      ) : null}
      {wing.brakes === undefined ? null : (
        <>
          {SIDES.map((side) => (
            <TapeSlider
              key={side}
              name={`rig-brake-${side}`}
              label={
                <>
                  Brake {side}, pulled <output className="figures">{rigging.brakeMm[side]} mm</output>
                </>
              }
              min={0}
              max={MOST_PULL_MM}
              tick={10}
              labels={[0, 100, 200, 300]}
              value={rigging.brakeMm[side]}
              valueText={`${rigging.brakeMm[side]} millimetres from hands up`}
              onChange={(value) => pull(side, value)}
            />
          ))}
          <label className={styles.check}>
            <input
              type="checkbox"
              checked={together}
              onChange={(event) => {
                setTogether(event.target.checked);
                if (event.target.checked) {
                  const mm = Math.max(rigging.brakeMm.left, rigging.brakeMm.right);
                  rig({ brakeMm: { left: mm, right: mm } });
                }
              }}
            />
            both brakes together
          </label>
        </>
      )}
      {unsolved === undefined ? null : (
        <p role="alert" className={styles.warning}>
          This could not be solved: {unsolved}. The shape is that of the setting before.
        </p>
      )}
      <dl className={styles.effects}>
        {differences.length === 0 || effect === undefined ? null : (
          <div>
            <dt>This rigging alone turns the wing as specified by</dt>
            <dd data-effect>{effect}</dd>
          </div>
        )}
        {shownTravel.map(({ name, text, short }) => (
          <div key={name} data-travel={name} data-short={short || undefined}>
            <dt>Free travel of the brakes left, {name.charAt(0).toLowerCase() + name.slice(1)}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      {shownTravel.length === 0 ? null : (
        <p className={styles.small}>
          {sayTravelApart("model", lineTravel)} Given for the tab that is pulled first; what short rear rows
          give back goes when they are put right, and opened trimmers take some. Try it on the ground; the
          limit set is {Math.round(wing.tolerances.minBrakeFreeTravelM * 1000)} mm.
        </p>
      )}
    </section>
  );
}
