/** Which line is it? Searched, picked in the 3D, traced down and up. */
import { useMemo, useState } from "react";
import type { Line, Wing } from "../../plan/model.ts";
import {
  lineName,
  sayList,
  sayLowerEnd,
  sayTrace,
  sayUpperEnd,
  tierWord,
  traceLine,
} from "../../workshop/index.ts";
import { dateText } from "../model/format.ts";
import { lineKind, type ReplaceJob } from "../model/workshop-replace.ts";
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
        <h3>Which line is it?</h3>
        <DamagedSearch
          wing={wing}
          label="Pick it in the 3D, or find it by what you know"
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
            ? `If ${lineName(line)} is damaged, the wing isn’t to be flown: it is a lower line. First it has to be replaced and the wing checked.`
            : `The wing isn’t to be flown until ${lineName(line)} has been replaced and the wing checked: it is a lower line.`}
        </p>
      ) : null}
      <DamagedDiagram wing={wing} trace={trace} />
      <p className={styles.text}>{sayTrace(trace)}</p>
      <dl className={styles.about}>
        <div>
          <dt>Hangs on</dt>
          <dd>
            {trace.below.length > 0 ? <>{several(trace.below)}, then </> : null}
            {foot.kind === "maillon"
              ? `maillon ${foot.maillonId}, riser ${foot.riserId}`
              : sayLowerEnd(trace)}
          </dd>
        </div>
        <div>
          <dt>Carries</dt>
          <dd>{sayUpperEnd(trace)}</dd>
        </div>
        <div>
          <dt>Mirror twin</dt>
          <dd>
            {twin === undefined ? (
              "none in the plan: it can only be replaced alone"
            ) : (
              <>
                {button(twin)} {twin.side}
              </>
            )}
          </dd>
        </div>
        {siblings.length > 0 && line.hangsOn.kind === "line" ? (
          <div>
            <dt>On the same line</dt>
            <dd>{several(siblings)}</dd>
          </div>
        ) : null}
        {foot.kind === "maillon" ? (
          <div>
            <dt>Else on the maillon</dt>
            <dd>{beside.length === 0 ? "nothing" : several(beside)}</dd>
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
            Replace {twin === undefined ? lineName(line) : `${line.id} left and right`}
          </button>
          {twin === undefined ? null : (
            <span className={styles.soft}>Both of the pair; one alone can be chosen with the order.</span>
          )}
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
        <span>What is wrong with it</span>
        <input
          type="text"
          autoComplete="off"
          placeholder="sheath worn through 40 cm above the maillon"
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
              Yes, take {job.lineId} out of the book
            </button>
            <button type="button" className={styles.link} onClick={() => setSure(false)}>
              No, it stays
            </button>
          </>
        ) : (
          <button type="button" className={styles.link} onClick={() => setSure(true)}>
            Don’t replace it after all
          </button>
        )}
      </div>
    </>
  );
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
                  {sayList(job.lines.map(({ line }) => line.side))}
                  {job.date === undefined ? "" : `, replaced ${dateText(job.date)}`}
                  {job.lines[0] === undefined ? "" : ` · ${lineKind(job.lines[0].line)}`}
                </span>
              </button>
            </li>
          ))}
        </ul>
      </>
    );
  return (
    <section className={styles.section} aria-label="Other lines" data-list="jobs">
      {list(
        "Also to be replaced",
        others.filter(({ date }) => date === undefined),
      )}
      {list(
        "Replaced before",
        others.filter(({ date }) => date !== undefined),
      )}
    </section>
  );
}
