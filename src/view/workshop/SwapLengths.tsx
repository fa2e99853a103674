/** Old and new line side by side under the same tension: both lengths as measured on the bench. */
import { useId, useState } from "react";
import type { Side } from "../../plan/model.ts";
import { lengthNumber, lengthUnitName, say, speech } from "../../words/index.ts";
import { lineName } from "../../workshop/index.ts";
import { readNumber } from "../judging/NumberField.tsx";
import { lengthFigure, shortLength, trimmed } from "../model/workshop-figures.ts";
import { type JobLine, lengthDoubt, type ReplaceJob, readLength } from "../model/workshop-replace.ts";
import { note, type ReplaceDesk } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import own from "./Swap.module.css";

export function SwapLengths({ desk, job }: { readonly desk: ReplaceDesk; readonly job: ReplaceJob }) {
  const { wing } = desk.document;
  const tensionN = job.lines.find(({ entry }) => entry.tensionN !== undefined)?.entry.tensionN;
  return (
    <section className={styles.section} data-part="lengths">
      <h3>{say("replace.lengths.title")}</h3>
      <table className={own.lengths}>
        <caption className="unseen">{say("replace.lengths.caption", { unit: speech().unit })}</caption>
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">{say("replace.lengths.line")}</span>
            </th>
            <th scope="col">{say("replace.lengths.old", { unit: lengthUnitName() })}</th>
            <th scope="col">{say("replace.lengths.new", { unit: lengthUnitName() })}</th>
          </tr>
        </thead>
        <tbody>
          {job.lines.map((one) => (
            <LengthRow key={one.line.key} job={job} of={one} />
          ))}
        </tbody>
      </table>
      <Tension
        value={tensionN}
        usual={wing.reference.tensionN}
        onChange={(newN) =>
          note(
            job,
            job.lines.map(({ line }) => line.side),
            { tensionN: newN },
          )
        }
      />
      <p className={styles.soft}>{say("replace.lengths.note")}</p>
    </section>
  );
}

function LengthRow({ job, of }: { readonly job: ReplaceJob; readonly of: JobLine }) {
  const { line, entry } = of;
  const { side } = line;
  const longerM =
    entry.oldM === undefined || entry.newM === undefined
      ? undefined
      : Math.round((entry.newM - entry.oldM) * 10_000) / 10_000;
  const doubts = [lengthDoubt(line, "old", entry.oldM), lengthDoubt(line, "new", entry.newM)].filter(
    (text) => text !== undefined,
  );
  const told =
    longerM === undefined
      ? ""
      : longerM === 0
        ? say("replace.lengths.same")
        : say("replace.lengths.differ", {
            by: shortLength(Math.abs(longerM)),
            way: longerM > 0 ? "long" : "short",
          });
  return (
    <>
      <tr data-lengths={side}>
        <th scope="row">
          <b>{lineName(line)}</b>
          <small>{say("replace.lengths.plan", { length: lengthNumber(line.lengthM) })}</small>
        </th>
        <Length
          job={job}
          side={side}
          which="oldM"
          value={entry.oldM}
          name={say("replace.lengths.of", {
            which: "old",
            line: lineName(line),
            unit: lengthUnitName(),
          })}
        />
        <Length
          job={job}
          side={side}
          which="newM"
          value={entry.newM}
          name={say("replace.lengths.of", {
            which: "new",
            line: lineName(line),
            unit: lengthUnitName(),
          })}
        />
      </tr>
      {longerM === undefined && doubts.length === 0 ? null : (
        <tr>
          <td colSpan={3} className={own.told}>
            {told === "" ? "" : `${told} `}
            {doubts.length === 0 ? null : <b data-doubt>{doubts.join(" ")}</b>}
          </td>
        </tr>
      )}
    </>
  );
}

/** Kept as typed until the field is left: half a length is never handed on. */
function Length(props: {
  readonly job: ReplaceJob;
  readonly side: Side;
  readonly which: "oldM" | "newM";
  readonly value: number | undefined;
  readonly name: string;
}) {
  const { job, side, which, value, name } = props;
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const shown = value === undefined ? "" : lengthFigure(value);
  const read = readLength(typed ?? shown);
  const wrong = "wrong" in read ? read.wrong : undefined;
  const keep = (): void => {
    if (typed === undefined || "wrong" in read) return;
    if (read.lengthM !== value) note(job, [side], { [which]: read.lengthM });
    setTyped(undefined);
  };
  return (
    <td>
      <input
        type="text"
        inputMode="decimal"
        autoComplete="off"
        aria-label={name}
        aria-invalid={wrong !== undefined}
        aria-describedby={wrong === undefined ? undefined : id}
        value={typed ?? shown}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={keep}
        onKeyDown={(event) => {
          if (event.key === "Enter") keep();
        }}
      />
      {wrong === undefined ? null : (
        <small id={id} className={own.wrong}>
          {wrong}
        </small>
      )}
    </td>
  );
}

function Tension(props: {
  readonly value: number | undefined;
  readonly usual: number;
  readonly onChange: (tensionN: number | undefined) => void;
}) {
  const { value, usual, onChange } = props;
  const [typed, setTyped] = useState<string>();
  const shown = value === undefined ? "" : trimmed(value, 3);
  const text = typed ?? shown;
  const number = text.trim() === "" ? undefined : readNumber(text, 1, 500);
  const wrong = text.trim() !== "" && number === undefined;
  const keep = (): void => {
    if (typed === undefined || wrong) return;
    if (number !== value) onChange(number);
    setTyped(undefined);
  };
  return (
    <label className={own.tension}>
      <span>{say("replace.tension")}</span>
      <input
        type="text"
        inputMode="decimal"
        autoComplete="off"
        placeholder={trimmed(usual, 3)}
        value={text}
        aria-invalid={wrong}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={keep}
        onKeyDown={(event) => {
          if (event.key === "Enter") keep();
        }}
      />
      <small>
        {wrong
          ? say("replace.tension.range")
          : value !== undefined && value !== usual
            ? say("replace.tension.plan", { tension: trimmed(usual, 3) })
            : say("replace.tension.same")}
      </small>
    </label>
  );
}
