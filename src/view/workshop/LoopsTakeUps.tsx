/** What loops take up, by bar and line: estimated until it is measured on the bench; readings are entered here. */
import { Children, type FormEvent, useId, useState } from "react";
import type { Problem } from "../../plan/model.ts";
import {
  fromUnit,
  inUnit,
  length,
  lengthNumber,
  lengthUnitName,
  longDate,
  say,
  sayParts,
} from "../../words/index.ts";
import { type BenchTakeUp, kindName, takeUpFromLengths, writeBook } from "../../workshop/index.ts";
import { readNumber } from "../judging/NumberField.tsx";
import { lengthFigure, shortLength } from "../model/workshop-figures.ts";
import { type TakeUpGroup, takeUpGroups } from "../model/workshop-loops-book.ts";
import { offerFile } from "../parts/hooks.ts";
import { useApp } from "../state/app.ts";
import type { LoopDesk } from "../state/loops.ts";
import styles from "./Loops.module.css";

/** To tenths of a millimetre. */
const tenths = (metres: number): string => lengthNumber(metres, 1);

export function LoopsTakeUps({ desk }: { readonly desk: LoopDesk }) {
  const { document } = desk;
  const { wing, loops, book } = document;
  const keepBook = useApp((state) => state.keepBook);
  const groups = takeUpGroups(wing, loops, book.bench);
  return (
    <details className={styles.fold} data-loops-part="take-ups">
      <summary>
        {say("loops.take-ups.title")}{" "}
        <small>
          {book.bench.length === 0
            ? say("loops.take-ups.estimated")
            : say("loops.take-ups.bench", { count: book.bench.length })}
        </small>
      </summary>
      <div className={styles.section}>
        <p className={styles.small}>{say("loops.take-ups.intro", { unit: lengthUnitName() })}</p>
        {groups.map((group) => (
          <Group key={`${group.barM} ${group.lineM} ${group.barAssumed}`} group={group} />
        ))}
        <BenchEntry
          groups={groups}
          onAdd={(reading) => keepBook((now) => ({ ...now, bench: [...now.bench, reading] }))}
        />
        {book.bench.length === 0 ? null : (
          <ul className={styles.readings} aria-label={say("loops.take-ups.readings")}>
            {book.bench.map((reading, index) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: readings have no name; two may be the same
              <li key={index} data-bench={reading.kindId}>
                <span>
                  <strong>{kindName({ id: reading.kindId })}</strong>{" "}
                  {Children.toArray(
                    sayParts("loops.take-ups.reading", {
                      takeUp: <span className="figures">{length(reading.takeUpM, 1)}</span>,
                      bar: tenths(reading.barDiameterM),
                      line: tenths(reading.lineDiameterM),
                      dated: reading.date === undefined ? "no" : "yes",
                      date: longDate(reading.date ?? ""),
                      noted: reading.note === undefined ? "no" : "yes",
                      note: reading.note ?? "",
                    }),
                  )}
                </span>
                <button
                  type="button"
                  className={styles.link}
                  onClick={() =>
                    keepBook((now) => ({ ...now, bench: now.bench.filter((each) => each !== reading) }))
                  }
                >
                  {say("loops.take-ups.remove")}
                </button>
              </li>
            ))}
          </ul>
        )}
        <div className={styles.actions}>
          <button
            type="button"
            className={styles.plain}
            onClick={() => offerFile(`loops ${wing.name}.json`, writeBook(book), "application/json")}
          >
            {say("loops.take-ups.keep")}
          </button>
          <span className={styles.small}>
            {say("loops.take-ups.keep.what", { source: document.source === "own" ? "own" : "example" })}
          </span>
        </div>
      </div>
    </details>
  );
}

function Group({ group }: { readonly group: TakeUpGroup }) {
  return (
    <table className={styles.takeUps}>
      <caption>
        {say("loops.take-ups.group", {
          bar: length(group.barM, 1),
          assumed: group.barAssumed ? "yes" : "no",
          line: length(group.lineM, 1),
        })}{" "}
        <small>
          {say("loops.take-ups.maillons", {
            count: group.maillons.length,
            names: group.maillons.join(", "),
          })}
        </small>
        {group.barAssumed ? <small className={styles.warn}>{say("loops.take-ups.no-bar")}</small> : null}
        {group.holds ? null : (
          <small className={styles.warn}>
            {say("loops.take-ups.outside", {
              barLeast: lengthFigure(0.0025),
              barMost: shortLength(0.008),
              lineLeast: lengthFigure(0.0007),
              lineMost: shortLength(0.0025),
            })}
          </small>
        )}
      </caption>
      <thead>
        <tr>
          <th scope="col">{say("loops.take-ups.head.loop")}</th>
          <th scope="col">{say("loops.take-ups.head.estimate")}</th>
          <th scope="col">{say("loops.take-ups.head.plan")}</th>
          <th scope="col">{say("loops.take-ups.head.bench")}</th>
        </tr>
      </thead>
      <tbody>
        {group.rows.map(({ kind, formula, estimate, bench, planM }) => (
          <tr key={kind.id} data-take-up={kind.id}>
            <th scope="row">
              {kindName(kind)}
              {formula === undefined ? null : <small className="figures">{formula}</small>}
            </th>
            <td data-of="estimate" data-replaced={bench !== undefined || undefined}>
              {estimate === undefined
                ? "–"
                : `${tenths(estimate.takeUpM)} ± ${tenths(estimate.standardUncertaintyM)}`}
            </td>
            <td data-of="plan">{planM.length === 0 ? "–" : planM.map(tenths).join(", ")}</td>
            <td data-of="bench">
              {bench === undefined ? (
                "–"
              ) : (
                <strong>
                  {tenths(bench.takeUpM)} ± {tenths(bench.standardUncertaintyM)}
                </strong>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const today = (): string => {
  const now = new Date();
  const two = (part: number): string => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

/** A take-up as measured, or two lengths of the same line: with a plain eye, and with the loop. */
function BenchEntry({
  groups,
  onAdd,
}: {
  readonly groups: readonly TakeUpGroup[];
  readonly onAdd: (reading: BenchTakeUp) => void;
}) {
  const id = useId();
  const [at, setAt] = useState(0);
  const [kindId, setKindId] = useState<string>();
  const [how, setHow] = useState<"take-up" | "lengths">("take-up");
  const [texts, setTexts] = useState({ takeUp: "", plain: "", looped: "" });
  const [problems, setProblems] = useState<readonly Pick<Problem, "message" | "remedy">[]>([]);
  const group = groups[at] ?? groups[0];
  if (group === undefined) return null;
  const kinds = group.rows.map(({ kind }) => kind);
  const kind = kinds.find((each) => each.id === kindId) ?? kinds[0];
  const field = (name: keyof typeof texts, label: string) => (
    <label className={styles.number}>
      <span>{label}</span>
      <span className={styles.entry}>
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          data-bench-entry={name}
          value={texts[name]}
          onChange={(event) => setTexts({ ...texts, [name]: event.target.value })}
        />
        {lengthUnitName()}
      </span>
    </label>
  );
  const add = (event: FormEvent): void => {
    event.preventDefault();
    if (kind === undefined) return;
    const reading = how === "take-up" ? takeUpTyped(texts.takeUp) : lengthsTyped(texts.plain, texts.looped);
    if (!reading.ok) return setProblems(reading.problems);
    setProblems([]);
    setTexts({ takeUp: "", plain: "", looped: "" });
    onAdd({
      kindId: kind.id,
      barDiameterM: group.barM,
      lineDiameterM: group.lineM,
      takeUpM: reading.takeUpM,
      standardUncertaintyM: reading.standardUncertaintyM,
      date: today(),
      note: undefined,
    });
  };
  return (
    <form className={styles.bench} onSubmit={add} aria-labelledby={id}>
      <h3 id={id}>{say("loops.bench.title")}</h3>
      <div className={styles.numbers}>
        <label className={styles.select}>
          <span>{say("loops.bench.loop")}</span>
          <select value={kind?.id} data-bench-entry="kind" onChange={({ target }) => setKindId(target.value)}>
            {kinds.map((each) => (
              <option key={each.id} value={each.id}>
                {kindName(each)}
              </option>
            ))}
          </select>
        </label>
        <label className={styles.select}>
          <span>{say("loops.bench.group")}</span>
          <select value={at} data-bench-entry="group" onChange={({ target }) => setAt(Number(target.value))}>
            {groups.map((each, index) => (
              <option key={`${each.barM} ${each.lineM} ${each.barAssumed}`} value={index}>
                {say("loops.bench.group.of", {
                  bar: tenths(each.barM),
                  line: tenths(each.lineM),
                  unit: lengthUnitName(),
                  maillons: each.maillons.join(", "),
                })}
              </option>
            ))}
          </select>
        </label>
        <label className={styles.select}>
          <span>{say("loops.bench.how")}</span>
          <select
            value={how}
            data-bench-entry="how"
            onChange={({ target }) => setHow(target.value === "lengths" ? "lengths" : "take-up")}
          >
            <option value="take-up">{say("loops.bench.how.takeUp")}</option>
            <option value="lengths">{say("loops.bench.how.lengths")}</option>
          </select>
        </label>
        {how === "take-up" ? (
          field("takeUp", say("loops.bench.takeUp"))
        ) : (
          <>
            {field("plain", say("loops.bench.plain"))}
            {field("looped", say("loops.bench.looped"))}
          </>
        )}
      </div>
      {problems.map(({ message, remedy }) => (
        <p key={message} role="alert" className={styles.alert}>
          {message} {remedy}
        </p>
      ))}
      <p className={styles.small}>
        {how === "lengths" ? say("loops.bench.lengths.what") : say("loops.bench.takeUp.what")}
      </p>
      <div className={styles.actions}>
        <button type="submit" className={styles.primary}>
          {say("loops.bench.enter")}
        </button>
      </div>
    </form>
  );
}

type Typed =
  | { readonly ok: true; readonly takeUpM: number; readonly standardUncertaintyM: number | undefined }
  | { readonly ok: false; readonly problems: readonly Pick<Problem, "message" | "remedy">[] };

const MOST_TAKE_UP_M = 0.2;
const MOST_LENGTH_M = 100;

function takeUpTyped(text: string): Typed {
  const value = readNumber(text, 0, inUnit(MOST_TAKE_UP_M));
  if (value !== undefined) return { ok: true, takeUpM: fromUnit(value), standardUncertaintyM: undefined };
  const message = say("loops.bench.takeUp.wrong", {
    found: text.trim(),
    least: lengthFigure(0),
    most: shortLength(MOST_TAKE_UP_M),
  });
  return { ok: false, problems: [{ message, remedy: say("loops.bench.takeUp.fix") }] };
}

function lengthsTyped(plain: string, looped: string): Typed {
  const lengths = (text: string): readonly number[] | undefined => {
    const parts = text.split(/[\s;]+/).filter((part) => part !== "");
    const values = parts.flatMap((part) => readNumber(part, 0, inUnit(MOST_LENGTH_M)) ?? []);
    return values.length === parts.length ? values.map(fromUnit) : undefined;
  };
  const [plainM, loopedM] = [lengths(plain), lengths(looped)];
  if (plainM === undefined || loopedM === undefined) {
    const message = say("loops.bench.lengths.wrong", {
      found: (plainM === undefined ? plain : looped).trim(),
      unit: lengthUnitName(),
    });
    return { ok: false, problems: [{ message, remedy: say("loops.bench.lengths.fix") }] };
  }
  // Both under the same weight, by what the form says; which one it is makes no difference.
  const read = takeUpFromLengths({ plainM, loopedM, plainTensionN: 50, loopedTensionN: 50 });
  return read.ok
    ? { ok: true, takeUpM: read.value.takeUpM, standardUncertaintyM: read.value.standardUncertaintyM }
    : { ok: false, problems: read.problems };
}
