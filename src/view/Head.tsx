/** Which wing, which check; another wing; help. */

import type { Analysis } from "../diagnosis/model.ts";
import { say } from "../words/index.ts";
import styles from "./Head.module.css";
import { type Fact, identityFacts, wingTitle } from "./model/identity.ts";
import { bothDates } from "./model/workshop-recheck.ts";
import { SpeechChoice } from "./parts/SpeechChoice.tsx";
import { useAnalysis, useApp } from "./state/app.ts";
import { WING_IDS, type WingId } from "./state/choices.ts";
import { builtInName } from "./state/core.ts";
import type { Document } from "./state/document.ts";
import { stateShown } from "./state/live.ts";

/** Of the check shown; both dates where a check was taken after the work. */
function factsOf(
  { wing, check, after }: Document,
  analysis: Analysis | undefined,
  isAfter: boolean,
): readonly Fact[] {
  const facts = identityFacts(wing, isAfter ? after : check, analysis);
  if (check === undefined || after === undefined) return facts;
  return facts.map((fact) =>
    fact.of === "check"
      ? { ...fact, label: say("frame.fact.checks"), value: bothDates(check.date, after.date) }
      : fact,
  );
}

export function Head(props: { readonly onHelp: () => void }) {
  const document = useApp((state) => state.document);
  const openWing = useApp((state) => state.openWing);
  const choose = useApp((state) => state.choose);
  const wingId = useApp(({ choices }) => choices.wing);
  const analysis = useAnalysis();
  const wing = document?.wing;
  const isAfter = useApp(
    ({ live, choices }) => live !== undefined && stateShown(live, choices.shown) === "after",
  );
  const facts = document === undefined ? [] : factsOf(document, analysis, isAfter);
  const label = (id: WingId): string =>
    id === "own"
      ? say("frame.wing.own", {
          known: wingId === "own" && wing !== undefined ? "yes" : "no",
          name: wing?.name ?? "",
        })
      : say("frame.wing.invented", { name: builtInName(id) });
  return (
    <header className={styles.head}>
      <p className={styles.word}>Linewright</p>
      <div className={styles.identity}>
        <h1 className={styles.name}>{wing === undefined ? "…" : wingTitle(wing)}</h1>
        <dl className={styles.facts}>
          {facts.map((fact) => (
            <div key={fact.of}>
              <dt>{fact.label}</dt>
              <dd>{fact.value}</dd>
            </div>
          ))}
        </dl>
      </div>
      <div className={styles.actions}>
        <label className={styles.switch}>
          <span className={styles.switchWord}>{say("frame.wings")}</span>
          <select
            aria-label={say("frame.wing.shown")}
            value={wingId}
            data-input="wing"
            onChange={(event) => openWing(WING_IDS.find((id) => id === event.target.value) ?? "school")}
          >
            {WING_IDS.filter((id) => id !== "own" || wingId === "own").map((id) => (
              <option key={id} value={id}>
                {label(id)}
              </option>
            ))}
          </select>
        </label>
        <span className={styles.speech}>
          <SpeechChoice />
        </span>
        <button type="button" className={styles.bring} onClick={() => choose({ pane: "files" })}>
          {say("frame.bring")}
        </button>
        <button type="button" className={styles.help} aria-label={say("frame.help")} onClick={props.onHelp}>
          ?
        </button>
      </div>
    </header>
  );
}
