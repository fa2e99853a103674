/** Old and new line side by side under the same tension: both lengths as measured on the bench. */
import { useId, useState } from "react";
import type { Side } from "../../plan/model.ts";
import { lineName } from "../../workshop/index.ts";
import { readNumber } from "../judging/NumberField.tsx";
import { type JobLine, lengthDoubt, type ReplaceJob, readLengthMm } from "../model/workshop-replace.ts";
import { note, type ReplaceDesk } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import own from "./Swap.module.css";

export function SwapLengths({ desk, job }: { readonly desk: ReplaceDesk; readonly job: ReplaceJob }) {
  const { wing } = desk.document;
  const tensionN = job.lines.find(({ entry }) => entry.tensionN !== undefined)?.entry.tensionN;
  return (
    <section className={styles.section} data-part="lengths">
      <h3>Old against new, loops out, under the same tension</h3>
      <table className={own.lengths}>
        <caption className="unseen">Lengths on the bench, in millimetres</caption>
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">line</span>
            </th>
            <th scope="col">old, mm</th>
            <th scope="col">new, mm</th>
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
      <p className={styles.soft}>
        From eye to eye. Aged lines are usually the shorter. What isn’t measured is reckoned: the old one from
        the readings, the new one as the plan has it.
      </p>
    </section>
  );
}

function LengthRow({ job, of }: { readonly job: ReplaceJob; readonly of: JobLine }) {
  const { line, entry } = of;
  const { side } = line;
  const longer =
    entry.oldM === undefined || entry.newM === undefined
      ? undefined
      : Math.round((entry.newM - entry.oldM) * 10_000) / 10;
  const doubts = [
    ["old", lengthDoubt(line, entry.oldM)] as const,
    ["new", lengthDoubt(line, entry.newM)] as const,
  ].flatMap(([which, text]) => (text === undefined ? [] : [`The ${which} one is ${text}`]));
  return (
    <>
      <tr data-lengths={side}>
        <th scope="row">
          <b>{lineName(line)}</b>
          <small>plan {Math.round(line.lengthM * 1000)}</small>
        </th>
        <Length
          job={job}
          side={side}
          which="oldM"
          value={entry.oldM}
          name={`Old length of ${lineName(line)}, mm`}
        />
        <Length
          job={job}
          side={side}
          which="newM"
          value={entry.newM}
          name={`New length of ${lineName(line)}, mm`}
        />
      </tr>
      {longer === undefined && doubts.length === 0 ? null : (
        <tr>
          <td colSpan={3} className={own.told}>
            {longer === undefined
              ? ""
              : longer === 0
                ? "Both are the same length. "
                : `The new one is ${Math.abs(longer)} mm ${longer > 0 ? "longer" : "shorter"}. `}
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
  const shown = value === undefined ? "" : String(Number((value * 1000).toFixed(1)));
  const read = readLengthMm(typed ?? shown);
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
  const shown = value === undefined ? "" : String(value);
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
      <span>Tension, N</span>
      <input
        type="text"
        inputMode="decimal"
        autoComplete="off"
        placeholder={String(usual)}
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
          ? "1 to 500 N"
          : value !== undefined && value !== usual
            ? `The plan’s lengths are at ${usual} N: take the new line’s length against it with that in mind.`
            : "the same for both, or they don’t compare"}
      </small>
    </label>
  );
}
