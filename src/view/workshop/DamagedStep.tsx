/** Which line is it? Searched, picked in the 3D, traced down and up. */
import { Children, useMemo, useState } from "react";
import type { Line, Wing } from "../../plan/model.ts";
import { longDate, say, sayParts } from "../../words/index.ts";
import { lineName, sayTrace, sayUpperEnd, tierWord, traceLine } from "../../workshop/index.ts";
import { lineKind, type ReplaceJob, saySides } from "../model/workshop-replace.ts";
import { pickLine, useApp } from "../state/app.ts";
import { dropJob, note, type ReplaceDesk, replaceLine, takeInHand } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import { DamagedDiagram } from "./DamagedDiagram.tsx";
import { DamagedSearch } from "./DamagedSearch.tsx";

export function DamagedStep({ desk }: { readonly desk: ReplaceDesk }) {
  const { document, jobs, job, other } = desk;
  const { wing } = document;
  const damaged = job === undefined ? undefined : document.cascade.lines.get(job.damagedKey);
  const line = other ?? damaged;
  const choose = useApp((state) => state.choose);
  return (
    <>
      <section className={styles.section}>
        <h3>{say("replace.line.which")}</h3>
        <DamagedSearch
          wing={wing}
          label={say("replace.search")}
          pickedKey={line?.key}
          listAll={line === undefined}
          onPick={({ key }) => choose({ picked: { kind: "line", key } })}
        />
      </section>
      {line === undefined ? null : (
        <LineTraced key={line.key} wing={wing} line={line} job={other === undefined ? job : undefined} />
      )}
      <Jobs jobs={jobs} inHand={job} />
    </>
  );
}

/** @param job undefined where the line isn't replaced */
function LineTraced(props: {
  readonly wing: Wing;
  readonly line: Line;
  readonly job: ReplaceJob | undefined;
}) {
  const { wing, line, job } = props;
  const hover = useApp((state) => state.hover);
  const trace = useMemo(() => traceLine(wing, line.key), [wing, line.key]);
  const { twin, siblings, onFoot, foot } = trace;
  const lower = tierWord(line) === "lower";
  const beside = onFoot.filter(({ key }) => key !== line.key && !trace.below.some((one) => one.key === key));
  const hold =
    foot.kind === "maillon"
      ? say("replace.line.on.maillon", { maillon: foot.maillonId, riser: foot.riserId })
      : say("workshop.trace.end.brake");
  const button = (of: Line) => (
    <button
      key={of.key}
      type="button"
      onClick={() => pickLine(of.key)}
      onPointerEnter={() => hover(of.key)}
      onPointerLeave={() => hover(undefined)}
      onFocus={() => hover(of.key)}
      onBlur={() => hover(undefined)}
    >
      {of.id}
    </button>
  );
  const several = (lines: readonly Line[]) =>
    lines.map((one, at) => (
      <span key={one.key}>
        {at === 0 ? "" : ", "}
        {button(one)}
      </span>
    ));
  return (
    <section className={styles.section} data-traced={line.key}>
      <h3>
        {lineName(line)} <span className={styles.soft}>{lineKind(line)}</span>
      </h3>
      {lower ? (
        <p className={styles.stop} data-stop>
          {job === undefined
            ? say("replace.line.stop.if", { line: lineName(line) })
            : say("replace.line.stop", { line: lineName(line) })}
        </p>
      ) : null}
      <DamagedDiagram wing={wing} trace={trace} />
      <p className={styles.text}>{sayTrace(trace)}</p>
      <dl className={styles.about}>
        <div>
          <dt>{say("replace.line.on")}</dt>
          <dd>
            {trace.below.length === 0
              ? hold
              : Children.toArray(
                  sayParts("replace.line.on.below", { lines: <>{several(trace.below)}</>, foot: hold }),
                )}
          </dd>
        </div>
        <div>
          <dt>{say("replace.line.carries")}</dt>
          <dd>{sayUpperEnd(trace)}</dd>
        </div>
        <div>
          <dt>{say("replace.line.twin")}</dt>
          <dd>
            {twin === undefined
              ? say("replace.line.twin.none")
              : Children.toArray(sayParts("diagnosis.name", { id: button(twin), side: twin.side }))}
          </dd>
        </div>
        {siblings.length > 0 && line.hangsOn.kind === "line" ? (
          <div>
            <dt>{say("replace.line.siblings")}</dt>
            <dd>{several(siblings)}</dd>
          </div>
        ) : null}
        {foot.kind === "maillon" ? (
          <div>
            <dt>{say("replace.line.beside")}</dt>
            <dd>{beside.length === 0 ? say("workshop.nothing") : several(beside)}</dd>
          </div>
        ) : null}
      </dl>
      {job === undefined ? (
        <div className={styles.actions}>
          <button
            type="button"
            className={styles.button}
            onClick={() => replaceLine(line.key)}
            data-act="replace"
          >
            {say("replace.line.replace", {
              line:
                twin === undefined ? lineName(line) : say("replace.job", { line: line.id, sides: "both" }),
            })}
          </button>
          {twin === undefined ? null : <span className={styles.soft}>{say("replace.line.pair")}</span>}
        </div>
      ) : (
        <JobNote job={job} />
      )}
    </section>
  );
}

function JobNote({ job }: { readonly job: ReplaceJob }) {
  const own = job.lines.find(({ line }) => line.key === job.damagedKey);
  const kept = own?.entry.note ?? "";
  const [typed, setTyped] = useState<string>();
  const [sure, setSure] = useState(false);
  if (own === undefined) return null;
  const keep = (): void => {
    if (typed !== undefined && typed.trim() !== kept)
      note(job, [own.line.side], { note: typed.trim() === "" ? undefined : typed.trim() });
    setTyped(undefined);
  };
  return (
    <>
      <label className={styles.field}>
        <span>{say("replace.note")}</span>
        <input
          type="text"
          autoComplete="off"
          placeholder={say("replace.note.example")}
          value={typed ?? kept}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={keep}
          onKeyDown={(event) => {
            if (event.key === "Enter") keep();
          }}
        />
      </label>
      <div className={styles.actions}>
        {sure ? (
          <>
            <button type="button" className={styles.plain} onClick={() => dropJob(job)}>
              {say("replace.drop.sure", { line: job.lineId })}
            </button>
            <button type="button" className={styles.link} onClick={() => setSure(false)}>
              {say("replace.drop.no")}
            </button>
          </>
        ) : (
          <button type="button" className={styles.link} onClick={() => setSure(true)}>
            {say("replace.drop")}
          </button>
        )}
      </div>
    </>
  );
}

function sidesAndDate({ lines, date }: ReplaceJob): string {
  const sides = saySides(lines.map(({ line }) => line.side));
  return date === undefined ? sides : say("replace.jobs.dated", { sides, date: longDate(date) });
}

/** All lines that are, or were, replaced on this wing. */
function Jobs({
  jobs,
  inHand,
}: {
  readonly jobs: readonly ReplaceJob[];
  readonly inHand: ReplaceJob | undefined;
}) {
  const others = jobs.filter(({ key }) => key !== inHand?.key);
  if (others.length === 0) return null;
  const list = (title: string, of: readonly ReplaceJob[]) =>
    of.length === 0 ? null : (
      <>
        <h4>{title}</h4>
        <ul className={styles.found}>
          {of.map((job) => (
            <li key={job.key}>
              <button type="button" onClick={() => takeInHand(job)} data-job={job.lineId}>
                <b>{job.lineId}</b>
                <span>
                  {sidesAndDate(job)}
                  {job.lines[0] === undefined ? "" : ` · ${lineKind(job.lines[0].line)}`}
                </span>
              </button>
            </li>
          ))}
        </ul>
      </>
    );
  return (
    <section className={styles.section} aria-label={say("replace.jobs")} data-list="jobs">
      {list(
        say("replace.jobs.open"),
        others.filter(({ date }) => date === undefined),
      )}
      {list(
        say("replace.jobs.done"),
        others.filter(({ date }) => date !== undefined),
      )}
    </section>
  );
}
