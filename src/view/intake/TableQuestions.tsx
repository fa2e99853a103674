/** What the table leaves open, put as questions: none of it is read before they are answered. */
import { say } from "../../words/index.ts";
import { SIDE_VALUES, sideLabel } from "../model/intake-columns.ts";
import { type OpenQuestion, withChanges, withColumn } from "../model/intake-draft.ts";
import { changeDraft } from "../state/bring-files.ts";
import styles from "./Intake.module.css";

export function TableQuestions(props: {
  readonly questions: readonly OpenQuestion[];
  readonly turned: boolean;
}) {
  if (props.questions.length === 0) return null;
  return (
    <div className={styles.questions} data-questions>
      {props.questions.map((question) => (
        <Question key={question.kind} question={question} turned={props.turned} />
      ))}
    </div>
  );
}

function Question({ question, turned }: { readonly question: OpenQuestion; readonly turned: boolean }) {
  switch (question.kind) {
    case "sides":
      return <Sides question={question} turned={turned} />;
    case "numbering":
      return (
        <Answers
          legend={say("intake.ask.numbering")}
          answers={[
            {
              label: say("intake.ask.numbering.outwards"),
              give: () => changeDraft((draft) => withChanges(draft, { numbering: "outwards" })),
            },
            {
              label: say("intake.ask.numbering.names"),
              give: () => changeDraft((draft) => withChanges(draft, { numbering: "names" })),
            },
          ]}
        />
      );
    case "holds":
      return (
        <Answers
          legend={say("intake.ask.holds")}
          answers={[
            {
              label: say("intake.ask.holds.measured"),
              give: () => changeDraft((draft) => withChanges(draft, { measured: true })),
            },
          ]}
        />
      );
    case "readings":
      return <p>{say("intake.ask.readings")}</p>;
    case "names":
      return <p>{say("intake.ask.names")}</p>;
  }
}

function Answers(props: {
  readonly legend: string;
  readonly answers: readonly { readonly label: string; readonly give: () => void }[];
}) {
  return (
    <fieldset>
      <legend>{props.legend}</legend>
      <div className={styles.answers}>
        {props.answers.map(({ label, give }) => (
          <button key={label} type="button" className={styles.answer} onClick={give}>
            {label}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

function Sides(props: {
  readonly question: Extract<OpenQuestion, { readonly kind: "sides" }>;
  readonly turned: boolean;
}) {
  const { columns, oneAnswer } = props.question;
  if (oneAnswer)
    return (
      <Answers
        legend={say("intake.ask.side")}
        answers={SIDE_VALUES.map((side) => ({
          label: sideLabel(side),
          give: () => changeDraft((draft) => withChanges(draft, { side })),
        }))}
      />
    );
  return (
    <fieldset>
      <legend>{say("intake.ask.sides")}</legend>
      {columns.map(({ section, column }) => {
        const { index, label, title, role, row } = column;
        const name = title === "" ? label : `${label} (${title})`;
        return (
          <div key={`${section}:${index}`} className={styles.answers}>
            <span className={styles.answersOf}>{props.turned ? name : say("intake.column", { name })}</span>
            {SIDE_VALUES.map((side) => (
              <button
                key={side}
                type="button"
                className={styles.answer}
                aria-label={`${name}: ${sideLabel(side)}`}
                onClick={() => changeDraft((draft) => withColumn(draft, section, index, { role, row, side }))}
              >
                {sideLabel(side)}
              </button>
            ))}
          </div>
        );
      })}
    </fieldset>
  );
}
