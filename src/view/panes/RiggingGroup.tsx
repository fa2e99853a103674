/** Trimmers, speed system, weight and brakes: each change is solved, for the wing as specified, as measured and as tried. */
import { useState } from "react";
import { meanIncidence } from "../../diagnosis/chord-mean.ts";
import { sayTravelApart, trimmed } from "../../diagnosis/wording.ts";
import { SIDES } from "../../plan/model.ts";
import { length, say, sayParts, speech } from "../../words/index.ts";
import { riggingDifferences, riggingEffect, travelShort, travelText } from "../model/riggingText.ts";
import { lengthDivisions, spokenNumber } from "../model/tape.ts";
import { TapeSlider } from "../parts/TapeSlider.tsx";
import { useApp, useLive } from "../state/app.ts";
import { AS_SPECIFIED, MOST_PULL_MM, type Rigging, referenceWeightKg } from "../state/rigging.ts";
import { useLineTravel } from "../state/travel.ts";
import styles from "./Mechanics.module.css";

const PULLS = {
  mm: { tick: 10, labels: [0, 100, 200, 300], decimals: 0 },
  in: { tick: 0.5, labels: [0, 5, 10], decimals: 0 },
};

/** What differs from the reference setting, for whoever watches from outside. */
function mark({ percent, weightKg, brakeMm }: Rigging): string {
  return [
    ...Object.entries(percent).flatMap(([id, share]) => (share === 0 ? [] : [`${id} ${share} %`])),
    ...(weightKg === undefined ? [] : [`${weightKg} kg`]),
    ...SIDES.flatMap((side) => (brakeMm[side] === 0 ? [] : [`${side} ${brakeMm[side]} mm`])),
  ].join(", ");
}

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
    { id: "specified", travel: states?.travel.specified },
    { id: "measured", travel: states?.travel.measured },
    { id: "tried", travel: states?.travel.tried },
  ].flatMap(({ id, travel }) => {
    const text = travelText(travel);
    return text === undefined || travel === undefined
      ? []
      : [{ id, text, short: travelShort(travel, wing.tolerances.minBrakeFreeTravelM) }];
  });
  const effect =
    live === undefined
      ? undefined
      : riggingEffect(meanIncidence(live.asMeasured.model, live.states.conditionRibs));

  const pulls = lengthDivisions(PULLS);
  const pull = (side: (typeof SIDES)[number], mm: number): void =>
    rig({ brakeMm: together ? { left: mm, right: mm } : { ...rigging.brakeMm, [side]: mm } });

  return (
    <section className={styles.group} aria-labelledby="rigging" data-rigging={mark(rigging)}>
      <header className={styles.groupHead}>
        <h2 id="rigging">{say("panes.rigging")}</h2>
        <button
          type="button"
          className={styles.text}
          disabled={differences.length === 0}
          onClick={() => rig(AS_SPECIFIED)}
        >
          {say("panes.rigging.trim")}
        </button>
      </header>
      <p className={styles.differs} aria-live="polite">
        {differences.length === 0
          ? say("panes.rigging.none")
          : say("panes.rigging.differs", { differences: differences.join(", ") })}
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
            valueText={say("panes.rigging.setting.spoken", { percent })}
            onChange={(value) => rig({ percent: { ...rigging.percent, [id]: value } })}
          />
        );
      })}
      {max > min ? (
        <TapeSlider
          name="rig-weight"
          label={sayParts("panes.rigging.weight", {
            weight: (
              <output key="weight" className="figures">
                {trimmed(weightKg, 1)} kg
              </output>
            ),
          })}
          min={Math.ceil(min)}
          max={Math.floor(max)}
          tick={1}
          labels={[Math.ceil(min), Math.floor(max)]}
          reference={referenceWeightKg(wing)}
          value={Math.round(weightKg)}
          valueText={say("panes.rigging.weight.spoken", { weight: trimmed(weightKg, 1) })}
          onChange={(value) => rig({ weightKg: value === referenceWeightKg(wing) ? undefined : value })}
        />
      ) : null}
      {wing.brakes === undefined ? null : (
        <>
          {SIDES.map((side) => (
            <TapeSlider
              key={side}
              name={`rig-brake-${side}`}
              label={sayParts("panes.rigging.brake", {
                side,
                pull: (
                  <output key="pull" className="figures">
                    {length(rigging.brakeMm[side] / 1000)}
                  </output>
                ),
              })}
              min={0}
              max={MOST_PULL_MM}
              tick={pulls.tick}
              labels={pulls.labels}
              labelText={(value) => pulls.labelText(value, false)}
              value={rigging.brakeMm[side]}
              valueText={say("panes.rigging.brake.spoken", {
                value: spokenNumber(rigging.brakeMm[side]),
                unit: speech().unit,
              })}
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
            {say("panes.rigging.brake.both")}
          </label>
        </>
      )}
      {unsolved === undefined ? null : (
        <p role="alert" className={styles.warning}>
          {say("panes.rigging.unsolved", { why: unsolved })}
        </p>
      )}
      <dl className={styles.effects}>
        {differences.length === 0 || effect === undefined ? null : (
          <div>
            <dt>{say("panes.rigging.effect")}</dt>
            <dd data-effect>{effect}</dd>
          </div>
        )}
        {shownTravel.map(({ id, text, short }) => (
          <div key={id} data-travel={id} data-short={short || undefined}>
            <dt>{say("panes.rigging.travel", { state: id })}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      {shownTravel.length === 0 ? null : (
        <p className={styles.small}>
          {sayTravelApart("model", lineTravel)}{" "}
          {say("panes.rigging.travel.note", { limit: length(wing.tolerances.minBrakeFreeTravelM) })}
        </p>
      )}
    </section>
  );
}
