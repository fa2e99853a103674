/** What the draft lacks or has wrong, with the way to it; and what the plan takes as usual, with how to state it. */
import { memo } from "react";
import { say } from "../../../words/index.ts";
import { type Assumption, stated, type TextProblem } from "../../model/build-problems.ts";
import { offsetOf } from "../../model/build-statements.ts";
import styles from "./Build.module.css";
import { builder } from "./builder.ts";

/** Shows a problem's place, or the field that says what is missing. */
function goTo({ line, character, field }: TextProblem): void {
  const { text, show } = builder.getState();
  if (line !== undefined && field !== "lengths")
    return show(offsetOf(text, line, character), { focus: true });
  const element = document.querySelector<HTMLElement>(`[data-field="${field}"]`);
  element?.focus({ preventScroll: true });
  element?.scrollIntoView({ block: "center" });
}

export const BuildProblems = memo(function BuildProblems({
  problems,
}: {
  readonly problems: readonly TextProblem[];
}) {
  const errors = problems.filter(({ problem }) => problem.severity === "error");
  const warnings = problems.filter(({ problem }) => problem.severity === "warning");
  return (
    <section className={styles.problems} data-problems={errors.length} data-warnings={warnings.length}>
      <h2 aria-live="polite">{say("build.problems", { count: errors.length })}</h2>
      <List problems={errors} />
      {warnings.length === 0 ? null : (
        <>
          <h3>{say("build.problems.looks", { count: warnings.length })}</h3>
          <List problems={warnings} />
        </>
      )}
    </section>
  );
});

function List({ problems }: { readonly problems: readonly TextProblem[] }) {
  if (problems.length === 0) return null;
  return (
    <ol className={styles.problemList}>
      {problems.map((each, index) => {
        const { problem, line, field } = each;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: a list that is made anew each time
          <li key={index} data-problem={problem.severity} data-line={line}>
            <b className={styles.severity} data-severity={problem.severity}>
              <span aria-hidden="true">{problem.severity === "error" ? "!" : "?"}</span>
              <span className="unseen">{say("build.problem.severity", { severity: problem.severity })}</span>
            </b>
            <span>
              {problem.message} <span className={styles.remedy}>{problem.remedy}</span>
            </span>
            {line === undefined && field === undefined ? null : (
              <button type="button" className={styles.small} onClick={() => goTo(each)}>
                {line === undefined || field === "lengths"
                  ? say("build.problem.field")
                  : say("build.problem.line", { line })}
              </button>
            )}
          </li>
        );
      })}
    </ol>
  );
}

export const BuildAssumed = memo(function BuildAssumed({
  assumptions,
}: {
  readonly assumptions: readonly Assumption[];
}) {
  const state = (statement: string): void => {
    const { text, write, show } = builder.getState();
    const now = stated(text, statement);
    write(now.text, `state ${statement}`, now.offset);
    show(now.offset, { focus: true });
  };
  return (
    <details className={styles.fold} data-fold="assumed" data-assumed={assumptions.length}>
      <summary>{say("build.assumed", { count: assumptions.length })}</summary>
      <p className={styles.lead}>
        {say(assumptions.length === 0 ? "build.assumed.none" : "build.assumed.lead")}
      </p>
      <ul className={styles.problemList}>
        {assumptions.map(({ text, statement }) => (
          <li key={text}>
            <span>
              {text}
              {statement === undefined ? null : (
                <code className={styles.code}>{statement.endsWith(" ") ? `${statement}…` : statement}</code>
              )}
            </span>
            {statement === undefined ? null : (
              <button
                type="button"
                className={styles.small}
                aria-label={say("build.assumed.as", { statement })}
                onClick={() => state(statement)}
              >
                {say("build.assumed.state")}
              </button>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
});
