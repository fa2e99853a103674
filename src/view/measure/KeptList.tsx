/** Sessions that this browser keeps: to go on with, to hand on, to save, of this wing and of others. */
import { useMemo, useRef, useState } from "react";
import type { Problem } from "../../plan/model.ts";
import { progressOf } from "../../readings/session/index.ts";
import { longDate, say } from "../../words/index.ts";
import { agoText } from "../model/measure-told.ts";
import panes from "../panes/Panes.module.css";
import { offerFile } from "../parts/hooks.ts";
import { app, shelf } from "../state/app.ts";
import { WING_IDS, type WingId } from "../state/choices.ts";
import { builtIn, planFrom } from "../state/core.ts";
import type { Document } from "../state/document.ts";
import { keptOwn } from "../state/keep.ts";
import { type BrokenSession, type KeptSession, wingKey } from "../state/measure.ts";
import { measure, useMeasure } from "../state/measure-app.ts";
import overview from "./Overview.module.css";
import styles from "./Start.module.css";
import { saveJournal } from "./WayOut.tsx";

/** The wing on hand that a session belongs to; undefined where its plan would have to be brought first. */
function wingOnHand(wing: string): WingId | undefined {
  return WING_IDS.find((id) => {
    const text = id === "own" ? keptOwn(shelf)?.plan.text : builtIn(id).plan.text;
    const plan = text === undefined ? undefined : planFrom(text);
    return plan?.ok === true && wingKey(plan.value) === wing;
  });
}

export function KeptList({ document }: { readonly document: Document }) {
  const sessions = useMeasure((state) => state.sessions);
  const broken = useMeasure((state) => state.broken);
  const wing = wingKey(document.plan);
  const lastMs = ({ session, card }: KeptSession): number => session.journal.at(-1)?.atMs ?? card.startedMs;
  const here = sessions.filter(({ card }) => card.letGoMs === undefined && card.wing === wing);
  const others = sessions.filter(({ card }) => card.letGoMs === undefined && card.wing !== wing);
  const gone = sessions.filter(({ card }) => card.letGoMs !== undefined);
  const byTime = (list: readonly KeptSession[]): readonly KeptSession[] =>
    [...list].sort((one, other) => lastMs(other) - lastMs(one));
  if (sessions.length + broken.length === 0) return null;
  return (
    <section className={styles.kept} data-kept>
      {here.length > 0 ? <h2>{say("measure.kept.title", { wing: document.plan.name })}</h2> : null}
      {byTime(here).map((kept) => (
        <One key={kept.card.id} kept={kept} lastMs={lastMs(kept)}>
          <button
            type="button"
            className={panes.button}
            data-action="resume"
            onClick={() => measure.getState().resume(kept.card.id)}
          >
            {say("measure.kept.goOn")}
          </button>
        </One>
      ))}
      {others.length > 0 ? (
        <>
          <h2>{say("measure.kept.others")}</h2>
          {byTime(others).map((kept) => (
            <One key={kept.card.id} kept={kept} lastMs={lastMs(kept)}>
              <GoToWing kept={kept} />
            </One>
          ))}
        </>
      ) : null}
      {broken.map((one) => (
        <Broken key={one.card.id} broken={one} />
      ))}
      {gone.length > 0 ? (
        <details className={overview.fold} data-fold="let go">
          <summary>{say("measure.kept.gone", { count: gone.length })}</summary>
          <ul>
            {byTime(gone).map((kept) => (
              <li key={kept.card.id} className={overview.line}>
                <span>
                  {kept.card.wingName}, {longDate(kept.session.state.frame.date)}
                </span>
                <button
                  type="button"
                  className={panes.textButton}
                  data-action="take back session"
                  onClick={() => void measure.getState().takeBack(kept.card.id)}
                >
                  {say("measure.kept.takeBack")}
                </button>
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  );
}

function One(props: {
  readonly kept: KeptSession;
  readonly lastMs: number;
  readonly children: React.ReactNode;
}) {
  const { kept, lastMs, children } = props;
  const { card, session, lost } = kept;
  const { read, total } = progressOf(session);
  return (
    <article className={styles.one} data-session={card.id}>
      <h3>
        {card.wingName}, {longDate(session.state.frame.date)}
      </h3>
      <p>{say("measure.kept.state", { read, total, ago: agoText(lastMs, Date.now()) })}</p>
      {card.takenMs === undefined ? null : <p>{say("measure.out.taken")}</p>}
      {lost.length > 0 ? <Problems problems={lost} /> : null}
      <p className={overview.line}>
        {children}
        <button type="button" className={overview.button} onClick={() => saveJournal(kept)}>
          {say("measure.out.save")}
        </button>
        <button
          type="button"
          className={panes.textButton}
          data-action="let go"
          onClick={() => void measure.getState().letGo(card.id)}
        >
          {say("measure.out.letGo")}
        </button>
      </p>
    </article>
  );
}

function GoToWing({ kept }: { readonly kept: KeptSession }) {
  const { id, wing, wingName } = kept.card;
  const there = useMemo(() => wingOnHand(wing), [wing]);
  return there === undefined ? (
    <span>{say("measure.kept.noPlan", { wing: wingName })}</span>
  ) : (
    <button
      type="button"
      className={overview.button}
      data-action="go to wing"
      onClick={() => {
        measure.getState().resume(id);
        app.getState().openWing(there);
      }}
    >
      {say("measure.kept.goThere", { wing: wingName })}
    </button>
  );
}

function Problems({ problems }: { readonly problems: readonly Problem[] }) {
  return (
    <ul className={panes.problems}>
      {problems.map(({ where, message, remedy, severity }) => (
        <li key={`${where} ${message}`} data-problem={severity}>
          <p>{message}</p>
          <p className={panes.remedy}>{remedy}</p>
        </li>
      ))}
    </ul>
  );
}

function Broken({ broken }: { readonly broken: BrokenSession }) {
  const { card, text, problems } = broken;
  return (
    <article className={styles.one} data-broken={card.id}>
      <h3>{card.wingName}</h3>
      <p>{say("measure.kept.broken")}</p>
      <Problems problems={problems} />
      <p>
        <button
          type="button"
          className={overview.button}
          onClick={() => offerFile("session.jsonl", text, "application/x-ndjson")}
        >
          {say("measure.out.save")}
        </button>
      </p>
    </article>
  );
}

export function BringJournal({ document }: { readonly document: Document }) {
  const input = useRef<HTMLInputElement>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const bring = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setProblems(await measure.getState().bringJournal(await file.text(), document.plan, document.source));
    if (input.current !== null) input.current.value = "";
  };
  return (
    <div className={styles.bring}>
      <span className={panes.fileButton}>
        <input
          ref={input}
          type="file"
          accept=".jsonl,.txt,.json"
          data-input="journal"
          aria-label={say("measure.kept.bring")}
          onChange={({ target }) => void bring(target.files?.[0])}
        />
        <span className={overview.button} style={{ display: "inline-flex", alignItems: "center" }}>
          {say("measure.kept.bring")}
        </span>
      </span>
      {problems.length > 0 ? <Problems problems={problems} /> : null}
    </div>
  );
}
