/** The swap by hand, step by step: old against new, where the paths land with each loop, which one is tied. */
import { length, say, signedLength } from "../../words/index.ts";
import { kindName, lineName, type SwapStep as Step, type SwapSheet } from "../../workshop/index.ts";
import { stepsAround } from "../model/workshop-replace-swap.ts";
import { clearTrial, type ReplaceDesk, tickStep, tryJob } from "../state/replace.ts";
import { MOST_TRIAL_MM } from "../state/trials.ts";
import styles from "./Damaged.module.css";
import own from "./Swap.module.css";
import { SwapLandings } from "./SwapLandings.tsx";
import { SwapLengths } from "./SwapLengths.tsx";

export function SwapStep({ desk }: { readonly desk: ReplaceDesk }) {
  const { job, sheet } = desk;
  if (job === undefined || sheet === undefined) return null;
  const [before, after] = stepsAround(sheet.steps);
  return (
    <>
      <section className={styles.section}>
        <h3>{say("replace.swap.before")}</h3>
        <Steps desk={desk} steps={before} first={1} />
      </section>
      <SwapLengths desk={desk} job={job} />
      <section className={styles.section} data-part="landings">
        <h3>{sheet.onMaillon ? say("replace.swap.loop") : say("replace.swap.lands")}</h3>
        {sheet.sides.map((side) => (
          <SwapLandings key={side.lineKey} desk={desk} job={job} side={side} />
        ))}
        <p className={styles.soft}>{say("replace.swap.signs")}</p>
        <LeftRight desk={desk} sheet={sheet} />
        <Tried desk={desk} />
        {sheet.warnings.length === 0 ? null : (
          <ul className={styles.warnings} data-list="swap-warnings">
            {sheet.warnings.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        )}
      </section>
      <section className={styles.section}>
        <h3>{say("replace.swap.after")}</h3>
        <Steps desk={desk} steps={after} first={before.length + 1} />
      </section>
    </>
  );
}

function Steps(props: {
  readonly desk: ReplaceDesk;
  readonly steps: readonly Step[];
  readonly first: number;
}) {
  const { desk, steps, first } = props;
  const { job, ticked } = desk;
  if (job === undefined) return null;
  return (
    <ol className={own.steps}>
      {steps.map(({ id, text }, at) => (
        <li key={id} data-done={ticked.includes(id) || undefined}>
          <label>
            <input
              type="checkbox"
              checked={ticked.includes(id)}
              data-step={id}
              onChange={(event) => tickStep(job, id, event.target.checked)}
            />
            <span className={own.number}>{first + at}</span>
            <span>{text}</span>
          </label>
        </li>
      ))}
    </ol>
  );
}

/** Left against right with the loops chosen. */
function LeftRight({ desk, sheet }: { readonly desk: ReplaceDesk; readonly sheet: SwapSheet }) {
  const differs = desk.after.reasons.find(
    ({ kind, lineKeys }) =>
      kind === "pair differs" && sheet.sides.every(({ lineKey }) => lineKeys.includes(lineKey)),
  );
  const chosen = sheet.sides.some(({ lineKey }) => desk.chosen.has(lineKey));
  if (differs !== undefined) return <p className={styles.text}>{differs.text}</p>;
  if (sheet.leftRightM === undefined || sheet.sides.length < 2) return null;
  return (
    <p className={styles.text}>
      {chosen
        ? say("replace.swap.near")
        : say("replace.swap.sides", { by: signedLength(sheet.leftRightM, 1) })}
    </p>
  );
}

/** Whether the 3D shows it. */
function Tried({ desk }: { readonly desk: ReplaceDesk }) {
  const { job, trial, tried, anyTried, document } = desk;
  if (job === undefined) return null;
  const known = trial.mm.size > 0;
  const beyond = [...trial.mm].filter(([, mm]) => Math.abs(mm) > MOST_TRIAL_MM);
  const nameOf = (key: string): string => {
    const line = document.cascade.lines.get(key);
    return line === undefined ? key : lineName(line);
  };
  const told = [...trial.mm].map(([key, mm]) => {
    const kindId = trial.ties.get(key);
    const kind = document.loops
      .find(({ lineKey }) => lineKey === key)
      ?.states.find((state) => state.kind.id === kindId)?.kind;
    const loop = kind === undefined ? undefined : kindName(kind);
    return say("replace.swap.trial", {
      line: nameOf(key),
      size: mm === 0 ? "none" : "some",
      by: signedLength(mm / 1000),
      tied: loop === undefined ? "no" : "yes",
      loop: loop ?? "",
    });
  });
  return (
    <div className={own.tried} data-tried={tried ? "yes" : anyTried ? "otherwise" : "no"}>
      <div className={styles.actions}>
        <button
          type="button"
          className={styles.plain}
          data-act="try"
          disabled={!known || tried}
          onClick={() => tryJob(job.key)}
        >
          {say("replace.swap.shown", { state: tried ? "shown" : "hidden" })}
        </button>
        {anyTried ? (
          <button
            type="button"
            className={styles.link}
            onClick={() => clearTrial(job.lines.map(({ line }) => line.key))}
          >
            {say("replace.swap.let-go")}
          </button>
        ) : null}
      </div>
      <p className={styles.soft}>
        {!known ? say("replace.swap.unknown") : say("replace.swap.as-trial", { trials: told.join("; ") })}
        {beyond.length > 0 ? ` ${say("replace.swap.beyond", { most: length(MOST_TRIAL_MM / 1000) })}` : ""}
      </p>
    </div>
  );
}
