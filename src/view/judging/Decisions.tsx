/** Every quantity that is held against a limit, with its decision: brake travel, rows, sides, pairs, paths. */
import { Fragment, useMemo } from "react";
import type { Assessment } from "../../diagnosis/assess.ts";
import type { Wing } from "../../plan/model.ts";
import { counted, signed, signedMm } from "../model/format.ts";
import { toleranceNote } from "../model/judging-choices.ts";
import {
  DECISION_FILTERS,
  type DecisionEntry,
  type DecisionFilter,
  type DecisionGroup,
  decisionGroups,
  filterDecisions,
} from "../model/judging-decisions.ts";
import { expandedText, limitsText, OUTCOMES, outcomeTitle, ruleSentence } from "../model/judging-words.ts";
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
}

export function Decisions(props: DecisionsProps) {
  const { wing, assessment, filter } = props;
  const groups = useMemo(() => decisionGroups(wing, assessment), [wing, assessment]);
  const shown = useMemo(() => filterDecisions(groups, filter), [groups, filter]);
  const count = (value: DecisionFilter): number =>
    value === "all" ? assessment.assessed.length : assessment.count[value];
  return (
    <section className={judging.section} aria-label="Decisions" data-judging="decisions">
      <header className={judging.head}>
        <h2>Held against the limits</h2>
      </header>
      <p className={judging.lead}>
        {ruleSentence(assessment.rule)} {toleranceNote(wing.tolerances)}
      </p>
      <div className={`${styles.filters} ${judging.screenOnly}`}>
        <OneOf
          legend="Decisions shown"
          options={DECISION_FILTERS.map((value) => ({
            value,
            label: `${value === "all" ? "All" : outcomeTitle(value)} ${count(value)}`,
          }))}
          value={filter}
          onChange={props.onFilter}
        />
      </div>
      {shown.length === 0 ? <p className={judging.empty}>{emptyText(filter, assessment)}</p> : null}
      {shown.map((group) => (
        <Group key={group.id} group={group} {...props} />
      ))}
      {assessment.notRead === 0 ? null : (
        <p className={judging.soft}>
          {counted(assessment.notRead, "path")} {assessment.notRead === 1 ? "was" : "were"} not read; nothing
          is said of {assessment.notRead === 1 ? "it" : "them"}.
        </p>
      )}
      <JudgingCaution />
    </section>
  );
}

function emptyText(filter: DecisionFilter, { assessed, count }: Assessment): string {
  if (assessed.length === 0) return "Nothing was read that could be held against a limit.";
  return filter === "undecided"
    ? "Nothing is undecided by this rule."
    : `Nothing fails to conform by this rule; ${count.undecided === 0 ? "nothing is undecided" : `${count.undecided} undecided`}. That is said of what was read, against the limits set.`;
}

function Group(props: DecisionsProps & { readonly group: DecisionGroup }) {
  const { group } = props;
  const limits = new Set(group.entries.map((entry) => limitsText(entry.limits)));
  return (
    <div className={styles.group} data-group={group.id}>
      <div className={styles.groupHead}>
        <h3>{group.title}</h3>
        <span>
          {group.about}, mm, ± U; limit {[...limits].join(", ")}
        </span>
        <span className={styles.count}>
          {OUTCOMES.map((outcome) => (
            <Fragment key={outcome}>
              <OutcomeMark outcome={outcome} size={13} />
              {group.count[outcome]}
              <span className="unseen"> {outcome}</span>
            </Fragment>
          ))}
        </span>
      </div>
      <ul>
        {group.entries.map((entry) => (
          <li key={entry.id}>
            <Row entry={entry} {...props} />
          </li>
        ))}
      </ul>
    </div>
  );
}

function Row(props: DecisionsProps & { readonly group: DecisionGroup; readonly entry: DecisionEntry }) {
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
  return signed(valueM * 1000, 1).replace("+", "");
}
