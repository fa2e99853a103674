/** By what a check is judged: the rule, the limits with their source, what readings are uncertain by, the uniform part. */

import { useId } from "react";
import type { DecisionRule } from "../../diagnosis/conformity.ts";
import { ruleSentence } from "../../diagnosis/conformity.ts";
import type { UniformPart } from "../../diagnosis/uniform.ts";
import type { Tolerances } from "../../plan/model.ts";
import { READING_UNCERTAINTY_NOTES, type ReadingUncertainty } from "../../readings/reading-uncertainty.ts";
import { type Key, lengthUnitName, perMetre, say } from "../../words/index.ts";
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

const TOLERANCES: readonly { readonly key: Exclude<keyof Tolerances, "source">; readonly label: Key }[] = [
  { key: "pathM", label: "judging.limit.path" },
  { key: "rowToRowM", label: "judging.limit.rows" },
  { key: "leftRightM", label: "judging.limit.sides" },
  { key: "minBrakeFreeTravelM", label: "judging.limit.travel" },
];

const UNCERTAINTIES: readonly {
  readonly key: keyof ReadingUncertainty;
  readonly label: Key;
  /** "length": in the unit that is set, the bounds in millimetres. */
  readonly unit: "length" | "N" | "mm/m";
  readonly factor: number;
  readonly min: number;
  readonly max: number;
}[] = [
  { key: "readingM", label: "judging.spread.reading", unit: "length", factor: 1000, min: 0.1, max: 50 },
  { key: "tensionEachN", label: "judging.spread.tension", unit: "N", factor: 1, min: 0, max: 50 },
  { key: "zeroM", label: "judging.spread.zero", unit: "length", factor: 1000, min: 0, max: 50 },
  { key: "scale", label: "judging.spread.scale", unit: "mm/m", factor: 1000, min: 0, max: 10 },
  { key: "resolutionM", label: "judging.spread.resolution", unit: "length", factor: 1000, min: 0, max: 20 },
];

/** What a field of a length shows and takes, bounds given in millimetres. */
function lengthField(minMm: number, maxMm: number) {
  const factor = perMetre();
  return { unit: lengthUnitName(), factor, min: (minMm / 1000) * factor, max: (maxMm / 1000) * factor };
}

export function JudgingSettings(props: JudgingSettingsProps) {
  const { choices } = props;
  const change = (part: Partial<JudgingChoices>): void => props.onChange({ ...choices, ...part });
  return (
    <section className={judging.section} aria-label={say("judging.settings")} data-judging="settings">
      <header className={judging.head}>
        <h2>{say("judging.settings")}</h2>
        {props.onReset === undefined ? null : (
          <button type="button" className={judging.link} onClick={props.onReset}>
            {say("judging.settings.back")}
          </button>
        )}
      </header>
      <p className={judging.lead}>{say("judging.settings.lead")}</p>
      <RuleChoice rule={choices.rule} onChange={(rule) => change({ rule })} />
      <fieldset className={styles.group}>
        <legend>{say("judging.limits")}</legend>
        <div className={styles.fields}>
          {TOLERANCES.map(({ key, label }) => (
            <NumberField
              key={key}
              label={say(label)}
              {...lengthField(key === "minBrakeFreeTravelM" ? 0 : 0.5, 500)}
              value={choices.tolerances[key]}
              onChange={(value) => change({ tolerances: { ...choices.tolerances, [key]: value } })}
            />
          ))}
        </div>
        <p className={styles.note}>{toleranceNote(choices.tolerances)}</p>
      </fieldset>
      <fieldset className={styles.group}>
        <legend>{say("judging.spread")}</legend>
        <div className={styles.fields}>
          {UNCERTAINTIES.map(({ key, label, ...field }) => (
            <NumberField
              key={key}
              label={say(label)}
              {...(field.unit === "length" ? lengthField(field.min, field.max) : field)}
              value={choices.uncertainty[key]}
              onChange={(value) => change({ uncertainty: { ...choices.uncertainty, [key]: value } })}
            />
          ))}
        </div>
        <p className={styles.note}>{say("judging.spread.note")}</p>
        <details className={styles.sources}>
          <summary>{say("judging.spread.sources")}</summary>
          <dl>
            {UNCERTAINTIES.map(({ key, label }) => (
              <div key={key}>
                <dt>{say(label)}</dt>
                <dd>{say(READING_UNCERTAINTY_NOTES[key].source)}</dd>
              </div>
            ))}
          </dl>
        </details>
      </fieldset>
      <fieldset className={styles.group}>
        <legend>{say("judging.uniform")}</legend>
        <OneOf<UniformChoice>
          legend={say("judging.uniform.part")}
          options={[
            { value: "keep", label: say("judging.uniform.keep") },
            { value: "remove", label: say("judging.uniform.remove") },
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
      <legend>{say("judging.rule")}</legend>
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
                <strong>{say(option.label)}</strong>
                <span>{say(option.meaning)}</span>
              </span>
            </label>
            {rule.kind === option.kind ? (
              <div className={styles.under}>
                {rule.kind === "guard band" ? (
                  <NumberField
                    label={say("judging.rule.width")}
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
                    label={say("judging.rule.at-least")}
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
