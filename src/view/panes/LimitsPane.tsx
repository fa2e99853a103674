/** The readings judged: doubtful ones first, then everything held against its limit, rows against rows, what to read next. */
import { useMemo, useState } from "react";
import type { Suspicion } from "../../diagnosis/mistakes/index.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import { uniformPart } from "../../diagnosis/uniform.ts";
import { sayTravelApart } from "../../diagnosis/wording.ts";
import { type Key, say } from "../../words/index.ts";
import { Decisions } from "../judging/Decisions.tsx";
import { JudgingSettings } from "../judging/JudgingSettings.tsx";
import { Mistakes } from "../judging/Mistakes.tsx";
import { NextReadings } from "../judging/NextReadings.tsx";
import { RowMatrix } from "../judging/RowMatrix.tsx";
import type { DecisionFilter } from "../model/judging-decisions.ts";
import { type MatrixSides, type RowDifference, rowMatrices } from "../model/judging-rows.ts";
import { pickLine, useApp, useBaseAnalysis, usePickBy, useRangeM } from "../state/app.ts";
import { AS_USUAL, isAsUsual, judgingChoices, judgingOf } from "../state/judging.ts";
import { useModelTravel } from "../state/travel.ts";
import { CautionLine } from "./Caution.tsx";
import styles from "./Limits.module.css";
import panes from "./Panes.module.css";

export function LimitsPane() {
  const analysis = useBaseAnalysis();
  if (analysis?.check === undefined || analysis.uncertainties === undefined)
    return (
      <div className={panes.pane}>
        <p className={panes.note}>{say("panes.limits.none")}</p>
        <CautionLine />
      </div>
    );
  return <Judged analysis={analysis} />;
}

function Judged({ analysis }: { readonly analysis: Analysis }) {
  const { wing, assessment, deviations, uncertainties } = analysis;
  const rangeM = useRangeM();
  const judgement = useApp((state) => state.judgement);
  const modelTravel = useModelTravel();
  const rule = useApp((state) => state.document?.judging.rule) ?? AS_USUAL.rule;
  const picked = useApp(({ choices }) => choices.picked);
  const [by, pickBy] = usePickBy();
  const [filter, setFilter] = useState<DecisionFilter>("does not conform");
  const [sides, setSides] = useState<MatrixSides>("both");
  const matrices = useMemo(
    () => (uncertainties === undefined ? undefined : rowMatrices(wing, deviations, uncertainties, rule)),
    [wing, deviations, uncertainties, rule],
  );
  const name = ({ front, rear }: Pick<RowDifference, "front" | "rear">): string =>
    `rows ${sides} ${front} ${rear}`;
  const difference = matrices?.[sides].differences.find((each) => by === name(each));
  return (
    <div
      className={`${panes.pane} ${styles.limits}`}
      data-limits={judgement === undefined ? "at work" : "done"}
    >
      <Jumps />
      <DoubtfulReadings analysis={analysis} />
      {assessment === undefined ? null : (
        <Decisions
          wing={wing}
          assessment={assessment}
          filter={filter}
          onFilter={setFilter}
          pickedId={by?.replace(/^decision /, "")}
          onPick={(entry) => pickBy(entry && `decision ${entry.id}`, entry?.lineKeys ?? [])}
          rangeM={rangeM}
          travelNote={sayTravelApart("lines", modelTravel)}
        />
      )}
      <Settings analysis={analysis} />
      {matrices === undefined ? null : (
        <RowMatrix
          matrices={matrices}
          sides={sides}
          onSides={setSides}
          picked={difference === undefined ? undefined : [difference.front, difference.rear]}
          onPick={(each) => pickBy(each && name(each), each?.lineKeys ?? [])}
          rangeM={rangeM}
        />
      )}
      {judgement === undefined ? (
        <p className={panes.note} role="status">
          {say("panes.limits.working")}
        </p>
      ) : (
        <NextReadings
          wing={wing}
          next={judgement.next}
          pickedKey={picked.kind === "line" ? picked.key : undefined}
          onPick={pickLine}
        />
      )}
      <CautionLine />
    </div>
  );
}

const JUMPS: readonly (readonly [string, Key])[] = [
  ["decisions", "judging.limits"],
  ["rows", "panes.limits.jump.rows"],
  ["next", "judging.next"],
];

/** The list of decisions can be long; what stands below it is a step away. */
function Jumps() {
  return (
    <nav className={styles.jumps} aria-label={say("panes.limits.jumps")}>
      {JUMPS.map(([name, label]) => (
        <button
          key={name}
          type="button"
          onClick={() => document.querySelector(`[data-limits] [data-judging="${name}"]`)?.scrollIntoView()}
        >
          {say(label)}
        </button>
      ))}
    </nav>
  );
}

/** Only where there is something: doubts, corrections made, or doubts set aside. */
function DoubtfulReadings({ analysis }: { readonly analysis: Analysis }) {
  const judging = useApp((state) => state.document?.judging) ?? AS_USUAL;
  const found = useApp((state) => state.judgement?.mistakes);
  const judge = useApp((state) => state.judge);
  const correct = useApp((state) => state.correct);
  const takeBack = useApp((state) => state.takeBack);
  const [by, pickBy] = usePickBy();
  const { again, dismissed, applied } = judging;
  const suspicions = (found ?? []).filter(({ id }) => !dismissed.includes(id));
  const aside = (found ?? []).length - suspicions.length;
  if (analysis.check === undefined) return null;
  if (suspicions.length + aside + applied.length === 0) return null;
  // Until the readings have been looked through anew, nothing is said of them.
  if (found === undefined)
    return (
      <p className={panes.note} role="status">
        {say("panes.limits.corrected", { count: applied.length })}
      </p>
    );
  const mark = ({ id }: Suspicion, wanted: boolean): void =>
    judge({ again: wanted ? [...again, id] : again.filter((each) => each !== id) });
  return (
    <Mistakes
      wing={analysis.wing}
      check={analysis.check}
      suspicions={suspicions}
      again={new Set(again)}
      applied={applied.map((suspicion) => ({ id: suspicion.id, suspicion }))}
      dismissed={aside}
      pickedId={by?.replace(/^reading /, "")}
      onAgain={mark}
      onCorrect={correct}
      onDismiss={({ id }) => judge({ dismissed: [...dismissed, id] })}
      onRecall={() => judge({ dismissed: [] })}
      onUndo={({ id }) => takeBack(id)}
      onShow={(suspicion, keys) => pickBy(suspicion && `reading ${suspicion.id}`, keys)}
    />
  );
}

function Settings({ analysis }: { readonly analysis: Analysis }) {
  const document = useApp((state) => state.document);
  const judge = useApp((state) => state.judge);
  if (document?.check === undefined || analysis.uncertainties === undefined) return null;
  const { plan, check, judging } = document;
  const part = uniformPart(analysis.deviations, analysis.uncertainties);
  const { rule, tolerances, uncertainty, uniform } = AS_USUAL;
  return (
    <details className={styles.fold} data-fold="judging">
      <summary>{say("panes.limits.how", { changed: isAsUsual(judging) ? "no" : "yes" })}</summary>
      <JudgingSettings
        choices={judgingChoices(plan, check, judging)}
        onChange={(choices) => judge(judgingOf(plan, check, choices))}
        uniform={
          part === undefined || analysis.uniformM === undefined
            ? undefined
            : { ...part, valueM: analysis.uniformM }
        }
        onReset={isAsUsual(judging) ? undefined : () => judge({ rule, tolerances, uncertainty, uniform })}
      />
    </details>
  );
}
