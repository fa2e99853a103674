/** Every quantity that is held against a limit, with its decision: brake travel, rows, sides, pairs, paths. */

import { Fragment, useMemo, useState } from "react";
import type { Assessment } from "../../diagnosis/assess.ts";
import { outcomeCase, ruleSentence } from "../../diagnosis/conformity.ts";
import type { Wing } from "../../plan/model.ts";
import { lengthNumber, lengthUnitName, say } from "../../words/index.ts";
import { signedMm } from "../model/format.ts";
import { toleranceNote } from "../model/judging-choices.ts";
import {
  DECISION_FILTERS,
  type DecisionEntry,
  type DecisionFilter,
  type DecisionFold,
  type DecisionGroup,
  decisionGroups,
  filterDecisions,
  foldDecisions,
} from "../model/judging-decisions.ts";
import { expandedText, limitsText, OUTCOMES, outcomeText } from "../model/judging-words.ts";
import { OneOf } from "../parts/Choice.tsx";
import styles from "./Decisions.module.css";
import { DecisionTape } from "./DecisionTape.tsx";
import judging from "./Judging.module.css";
import { JudgingCaution, OutcomeMark, Verdict } from "./Verdict.tsx";

export interface DecisionsProps {
  readonly wing: Wing;
  readonly assessment: Assessment;
  readonly filter: DecisionFilter;
  readonly onFilter: (filter: DecisionFilter) => void;
  readonly pickedId: string | undefined;
  /** The lines of all paths concerned; the decision picked already gives undefined. */
  readonly onPick: (decision: DecisionEntry | undefined) => void;
  /** Half range of the colour scale [m]. */
  readonly rangeM: number;
  /** Which of the two figures of the brakes' free travel stands here, and why the other differs. */
  readonly travelNote?: string | undefined;
}

export function Decisions(props: DecisionsProps) {
  const { wing, assessment, filter } = props;
  const groups = useMemo(() => decisionGroups(wing, assessment), [wing, assessment]);
  const shown = useMemo(() => filterDecisions(groups, filter), [groups, filter]);
  const count = (value: DecisionFilter): number =>
    value === "all" ? assessment.assessed.length : assessment.count[value];
  return (
    <section className={judging.section} aria-label={say("judging.decisions")} data-judging="decisions">
      <header className={judging.head}>
        <h2>{say("judging.decisions.title")}</h2>
      </header>
      <p className={judging.lead}>
        {ruleSentence(assessment.rule)} {toleranceNote(wing.tolerances)}
      </p>
      <div className={`${styles.filters} ${judging.screenOnly}`}>
        <OneOf
          legend={say("judging.decisions.shown")}
          options={DECISION_FILTERS.map((value) => ({
            value,
            label: say("judging.filter", { filter: filterCase(value), count: count(value) }),
          }))}
          value={filter}
          onChange={props.onFilter}
        />
      </div>
      <p className={styles.onPaper}>
        {say("judging.listed", {
          filter: filterCase(filter),
          count: count(filter),
          total: assessment.assessed.length,
        })}
      </p>
      {shown.length === 0 ? <p className={judging.empty}>{emptyText(filter, assessment)}</p> : null}
      {shown.map((group) => (
        <Group key={group.id} group={group} {...props} />
      ))}
      {assessment.notRead === 0 ? null : (
        <p className={judging.soft}>{say("judging.paths.not-read", { count: assessment.notRead })}</p>
      )}
      <JudgingCaution />
    </section>
  );
}

function filterCase(filter: DecisionFilter): string {
  return filter === "all" ? "all" : outcomeCase(filter);
}

function emptyText(filter: DecisionFilter, { assessed, count }: Assessment): string {
  if (assessed.length === 0) return say("judging.empty.nothing");
  return filter === "undecided"
    ? say("judging.empty.undecided")
    : say("judging.empty.fails", { undecided: count.undecided });
}

function Group(props: DecisionsProps & { readonly group: DecisionGroup }) {
  const { group } = props;
  const limits = new Set(group.entries.map((entry) => limitsText(entry.limits)));
  const { worst, folds } = useMemo(() => foldDecisions(group), [group]);
  return (
    <div className={styles.group} data-group={group.id}>
      <div className={styles.groupHead}>
        <h3>{group.title}</h3>
        <span>
          {say("judging.group.about", {
            about: group.about,
            unit: lengthUnitName(),
            limits: [...limits].join(", "),
          })}
        </span>
        <Count count={group.count} />
      </div>
      {group.entries.some(({ isDeviation }) => !isDeviation) && props.travelNote !== undefined ? (
        <p className={styles.travelNote}>{props.travelNote}</p>
      ) : null}
      {folds.length === 0 ? (
        <Rows {...props} entries={group.entries} />
      ) : (
        <>
          <div className={judging.screenOnly} data-worst>
            <p className={styles.worstHead}>{say("judging.worst", { count: worst.length })}</p>
            <Rows {...props} entries={worst} />
            <p className={styles.worstHead}>
              {say("judging.worst.all", {
                count: group.entries.length,
                by: folds.some(({ entries }) => entries[0]?.side) ? "side" : "row",
              })}
            </p>
          </div>
          {folds.map((fold) => (
            <Fold key={fold.id} {...props} fold={fold} />
          ))}
        </>
      )}
    </div>
  );
}

/** @param some only outcomes that occur */
function Count({ count, some = false }: { readonly count: DecisionGroup["count"]; readonly some?: boolean }) {
  return (
    <span className={styles.count}>
      {OUTCOMES.filter((outcome) => !some || count[outcome] > 0).map((outcome) => (
        <Fragment key={outcome}>
          <OutcomeMark outcome={outcome} size={13} />
          {count[outcome]}
          <span className="unseen"> {outcomeText(outcome)}</span>
        </Fragment>
      ))}
    </span>
  );
}

type RowsProps = DecisionsProps & { readonly group: DecisionGroup };

/** Opened by hand, or because what is picked lies in it. */
function Fold(props: RowsProps & { readonly fold: DecisionFold }) {
  const { fold, pickedId } = props;
  const [open, setOpen] = useState(false);
  const [worst] = fold.entries;
  const picked = fold.entries.some(({ id }) => id === pickedId);
  return (
    <details
      className={styles.fold}
      data-fold={fold.id}
      data-picked={picked || undefined}
      open={open}
      onToggle={(event) => setOpen(event.currentTarget.open)}
    >
      <summary>
        <strong>{fold.title}</strong>
        {worst === undefined ? null : (
          <span className={styles.value}>
            <small>
              {fold.entries.length === 1
                ? worst.brief
                : say("judging.fold.worst", { name: worst.brief })}{" "}
            </small>
            {signedMm(worst.valueM, 1)}
          </span>
        )}
        <Count count={fold.count} some />
      </summary>
      <Rows {...props} entries={fold.entries} />
    </details>
  );
}

function Rows({ entries, ...props }: RowsProps & { readonly entries: readonly DecisionEntry[] }) {
  return (
    <ul>
      {entries.map((entry) => (
        <li key={entry.id}>
          <Row {...props} entry={entry} />
        </li>
      ))}
    </ul>
  );
}

function Row(props: RowsProps & { readonly entry: DecisionEntry }) {
  const { entry, group } = props;
  const { valueM, standardUncertaintyM, decision } = entry;
  const picked = props.pickedId === entry.id;
  return (
    <button
      type="button"
      className={styles.row}
      data-decision={decision.outcome}
      aria-pressed={picked}
      onClick={() => props.onPick(picked ? undefined : entry)}
    >
      <span className={styles.subject}>{entry.subject}</span>
      <span className={styles.value}>
        {entry.isDeviation ? signedMm(valueM, 1) : travelMm(valueM)}{" "}
        <small>{expandedText(standardUncertaintyM)}</small>
      </span>
      <span className={styles.tape}>
        <DecisionTape
          valueM={valueM}
          expandedM={2 * standardUncertaintyM}
          limits={entry.limits}
          axisM={group.axisM}
          rangeM={entry.isDeviation ? props.rangeM : undefined}
          height={18}
        />
      </span>
      <Verdict outcome={decision.outcome} />
      {picked ? <span className={styles.detail}>{decision.sentence}</span> : null}
    </button>
  );
}

/** A travel has no plus sign; one that is gone and more has a minus. */
function travelMm(valueM: number): string {
  return lengthNumber(valueM, 1);
}
