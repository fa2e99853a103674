/** By what a check is judged: the rule, the limits with their source, what readings are uncertain by, the uniform part. */

import { useId } from "react";
import type { DecisionRule } from "../../diagnosis/conformity.ts";
import { ruleSentence } from "../../diagnosis/conformity.ts";
import type { UniformPart } from "../../diagnosis/uniform.ts";
import type { Tolerances } from "../../plan/model.ts";
import { READING_UNCERTAINTY_NOTES, type ReadingUncertainty } from "../../readings/reading-uncertainty.ts";
import {
  type JudgingChoices,
  RULE_OPTIONS,
  toleranceNote,
  type UniformChoice,
  uniformConsequence,
} from "../model/judging-choices.ts";
import { OneOf } from "../parts/Choice.tsx";
import judging from "./Judging.module.css";
import styles from "./JudgingSettings.module.css";
import { NumberField } from "./NumberField.tsx";
import { JudgingCaution } from "./Verdict.tsx";

export interface JudgingSettingsProps {
  readonly choices: JudgingChoices;
  readonly onChange: (choices: JudgingChoices) => void;
  /** The uniform part as estimated; undefined without readings. */
  readonly uniform: UniformPart | undefined;
  /** Back to the plan's limits, the check's and the usual uncertainties, the usual rule; undefined where nothing differs. */
  readonly onReset: (() => void) | undefined;
}

const TOLERANCES: readonly { readonly key: Exclude<keyof Tolerances, "source">; readonly label: string }[] = [
  { key: "pathM", label: "A path against the plan, ±" },
  { key: "rowToRowM", label: "Row against row, ±" },
  { key: "leftRightM", label: "Left against right, ±" },
  { key: "minBrakeFreeTravelM", label: "Brake free travel, at least" },
];

const UNCERTAINTIES: readonly {
  readonly key: keyof ReadingUncertainty;
  readonly label: string;
  readonly unit: string;
  readonly factor: number;
  readonly min: number;
  readonly max: number;
}[] = [
  { key: "readingM", label: "Reading point and hand", unit: "mm", factor: 1000, min: 0.1, max: 50 },
  { key: "tensionEachN", label: "Tension of a reading", unit: "N", factor: 1, min: 0, max: 50 },
  { key: "zeroM", label: "Zero, the same for all", unit: "mm", factor: 1000, min: 0, max: 50 },
  { key: "scale", label: "Scale, the same for all", unit: "mm/m", factor: 1000, min: 0, max: 10 },
  { key: "resolutionM", label: "Smallest step shown", unit: "mm", factor: 1000, min: 0, max: 20 },
];

export function JudgingSettings(props: JudgingSettingsProps) {
  const { choices } = props;
  const change = (part: Partial<JudgingChoices>): void => props.onChange({ ...choices, ...part });
  return (
    <section className={judging.section} aria-label="How it is judged" data-judging="settings">
      <header className={judging.head}>
        <h2>How it is judged</h2>
        {props.onReset === undefined ? null : (
          <button type="button" className={judging.link} onClick={props.onReset}>
            Back to the plan’s and the usual
          </button>
        )}
      </header>
      <p className={judging.lead}>
        These settings change what is said of the readings, never the readings themselves.
      </p>
      <RuleChoice rule={choices.rule} onChange={(rule) => change({ rule })} />
      <fieldset className={styles.group}>
        <legend>Limits</legend>
        <div className={styles.fields}>
          {TOLERANCES.map(({ key, label }) => (
            <NumberField
              key={key}
              label={label}
              unit="mm"
              value={choices.tolerances[key]}
              factor={1000}
              min={key === "minBrakeFreeTravelM" ? 0 : 0.5}
              max={500}
              onChange={(value) => change({ tolerances: { ...choices.tolerances, [key]: value } })}
            />
          ))}
        </div>
        <p className={styles.note}>{toleranceNote(choices.tolerances)}</p>
      </fieldset>
      <fieldset className={styles.group}>
        <legend>What readings are uncertain by</legend>
        <div className={styles.fields}>
          {UNCERTAINTIES.map(({ key, ...field }) => (
            <NumberField
              key={key}
              {...field}
              value={choices.uncertainty[key]}
              onChange={(value) => change({ uncertainty: { ...choices.uncertainty, [key]: value } })}
            />
          ))}
        </div>
        <p className={styles.note}>
          One standard deviation each, but for the smallest step. Repeats in the check put the first of them
          right step by step.
        </p>
        <details className={styles.sources}>
          <summary>Where the usual figures are from</summary>
          <dl>
            {UNCERTAINTIES.map(({ key, label }) => (
              <div key={key}>
                <dt>{label}</dt>
                <dd>{READING_UNCERTAINTY_NOTES[key].source}</dd>
              </div>
            ))}
          </dl>
        </details>
      </fieldset>
      <fieldset className={styles.group}>
        <legend>The part that all rows share</legend>
        <OneOf<UniformChoice>
          legend="Uniform part"
          options={[
            { value: "keep", label: "Keep it" },
            { value: "remove", label: "Remove it" },
          ]}
          value={choices.uniform}
          onChange={(uniform) => change({ uniform })}
        />
        <p className={styles.note} aria-live="polite">
          {uniformConsequence(choices.uniform, props.uniform)}
        </p>
      </fieldset>
      <JudgingCaution />
    </section>
  );
}

function RuleChoice({
  rule,
  onChange,
}: {
  readonly rule: DecisionRule;
  readonly onChange: (rule: DecisionRule) => void;
}) {
  const name = useId();
  return (
    <fieldset className={styles.group}>
      <legend>Rule</legend>
      <ul className={styles.rules}>
        {RULE_OPTIONS.map((option) => (
          <li key={option.kind}>
            <label className={styles.rule}>
              <input
                type="radio"
                name={name}
                value={option.kind}
                checked={rule.kind === option.kind}
                onChange={() => onChange(option.rule)}
              />
              <span>
                <strong>{option.label}</strong>
                <span>{option.meaning}</span>
              </span>
            </label>
            {rule.kind === option.kind ? (
              <div className={styles.under}>
                {rule.kind === "guard band" ? (
                  <NumberField
                    label="Width of the band, in U (k = 2)"
                    unit="U"
                    value={rule.r}
                    factor={1}
                    min={0}
                    max={3}
                    onChange={(r) => onChange({ kind: "guard band", r })}
                  />
                ) : null}
                {rule.kind === "minimum probability" ? (
                  <NumberField
                    label="At least so probable"
                    unit="%"
                    value={rule.probability}
                    factor={100}
                    min={51}
                    max={99.9}
                    onChange={(probability) => onChange({ kind: "minimum probability", probability })}
                  />
                ) : null}
              </div>
            ) : null}
          </li>
        ))}
      </ul>
      <p className={styles.note} aria-live="polite">
        {ruleSentence(rule)}
      </p>
    </fieldset>
  );
}
