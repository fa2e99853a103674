/** What loops take up, by bar and line: estimated until it is measured on the bench; readings are entered here. */
import { type FormEvent, useId, useState } from "react";
import type { Problem } from "../../plan/model.ts";
import { type BenchTakeUp, loopKind, takeUpFromLengths, writeBook } from "../../workshop/index.ts";
import { readNumber } from "../judging/NumberField.tsx";
import { dateText } from "../model/format.ts";
import { type TakeUpGroup, takeUpGroups } from "../model/workshop-loops-book.ts";
import { offerFile } from "../parts/hooks.ts";
import { useApp } from "../state/app.ts";
import type { LoopDesk } from "../state/loops.ts";
import styles from "./Loops.module.css";

const mm = (metres: number, decimals = 1): string => (metres * 1000).toFixed(decimals);

export function LoopsTakeUps({ desk }: { readonly desk: LoopDesk }) {
  const { document } = desk;
  const { wing, loops, book } = document;
  const keepBook = useApp((state) => state.keepBook);
  const groups = takeUpGroups(wing, loops, book.bench);
  return (
    <details className={styles.fold} data-loops-part="take-ups">
      <summary>
        Take-ups{" "}
        <small>{book.bench.length === 0 ? "estimated" : `${book.bench.length} from the bench`}</small>
      </summary>
      <div className={styles.section}>
        <p className={styles.small}>
          What a loop takes up more than a plain eye, in mm with one standard uncertainty. An estimate is
          reckoned from bar and line and is no measurement: measure on the bench. For a line whose own loop
          the plan gives, the plan’s figure counts; else the bench’s; else the estimate. None of it holds for
          soft links.
        </p>
        {groups.map((group) => (
          <Group key={`${group.barM} ${group.lineM} ${group.barAssumed}`} group={group} />
        ))}
        <BenchEntry
          groups={groups}
          onAdd={(reading) => keepBook((now) => ({ ...now, bench: [...now.bench, reading] }))}
        />
        {book.bench.length === 0 ? null : (
          <ul className={styles.readings} aria-label="Readings from the bench">
            {book.bench.map((reading, index) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: readings have no name; two may be the same
              <li key={index} data-bench={reading.kindId}>
                <span>
                  <strong>{loopKind(reading.kindId)?.name ?? reading.kindId}</strong>{" "}
                  <span className="figures">{mm(reading.takeUpM)} mm</span>, bar {mm(reading.barDiameterM)},
                  line {mm(reading.lineDiameterM)}
                  {reading.date === undefined ? "" : `, ${dateText(reading.date)}`}
                  {reading.note === undefined ? "" : `; ${reading.note}`}
                </span>
                <button
                  type="button"
                  className={styles.link}
                  onClick={() =>
                    keepBook((now) => ({ ...now, bench: now.bench.filter((each) => each !== reading) }))
                  }
                >
                  Remove
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
            Take the book along
          </button>
          <span className={styles.small}>
            Present loops, take-ups and choices as a file; bring it back under Files.
            {document.source === "own" ? "" : " For an example wing it lasts as long as this page."}
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
        Bar {mm(group.barM)} mm{group.barAssumed ? " (assumed)" : ""}, line {mm(group.lineM)} mm{" "}
        <small>
          {group.maillons.length === 1 ? "maillon" : "maillons"} {group.maillons.join(", ")}
        </small>
        {group.barAssumed ? (
          <small className={styles.warn}>
            The plan gives no bar diameter: a usual one is taken, and the uncertainty is wider for it.
          </small>
        ) : null}
        {group.holds ? null : (
          <small className={styles.warn}>
            Outside of what the estimate is meant for (a round bar of 2.5 to 8 mm, a line of 0.7 to 2.5 mm and
            no thicker than the bar). Measure.
          </small>
        )}
      </caption>
      <thead>
        <tr>
          <th scope="col">Loop</th>
          <th scope="col">estimate</th>
          <th scope="col">plan</th>
          <th scope="col">bench</th>
        </tr>
      </thead>
      <tbody>
        {group.rows.map(({ kind, formula, estimate, bench, planM }) => (
          <tr key={kind.id} data-take-up={kind.id}>
            <th scope="row">
              {kind.name}
              {formula === undefined ? null : <small className="figures">{formula}</small>}
            </th>
            <td data-of="estimate" data-replaced={bench !== undefined || undefined}>
              {estimate === undefined
                ? "–"
                : `${mm(estimate.takeUpM)} ± ${mm(estimate.standardUncertaintyM)}`}
            </td>
            <td data-of="plan">{planM.length === 0 ? "–" : planM.map((each) => mm(each)).join(", ")}</td>
            <td data-of="bench">
              {bench === undefined ? (
                "–"
              ) : (
                <strong>
                  {mm(bench.takeUpM)} ± {mm(bench.standardUncertaintyM)}
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
        mm
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
      <h3 id={id}>Measured on the bench</h3>
      <div className={styles.numbers}>
        <label className={styles.select}>
          <span>loop</span>
          <select value={kind?.id} data-bench-entry="kind" onChange={({ target }) => setKindId(target.value)}>
            {kinds.map((each) => (
              <option key={each.id} value={each.id}>
                {each.name}
              </option>
            ))}
          </select>
        </label>
        <label className={styles.select}>
          <span>on bar and line</span>
          <select value={at} data-bench-entry="group" onChange={({ target }) => setAt(Number(target.value))}>
            {groups.map((each, index) => (
              <option key={`${each.barM} ${each.lineM} ${each.barAssumed}`} value={index}>
                {mm(each.barM)} and {mm(each.lineM)} mm ({each.maillons.join(", ")})
              </option>
            ))}
          </select>
        </label>
        <label className={styles.select}>
          <span>given as</span>
          <select
            value={how}
            data-bench-entry="how"
            onChange={({ target }) => setHow(target.value === "lengths" ? "lengths" : "take-up")}
          >
            <option value="take-up">the take-up</option>
            <option value="lengths">two lengths</option>
          </select>
        </label>
        {how === "take-up" ? (
          field("takeUp", "take-up")
        ) : (
          <>
            {field("plain", "with a plain eye")}
            {field("looped", "with the loop")}
          </>
        )}
      </div>
      {problems.map(({ message, remedy }) => (
        <p key={message} role="alert" className={styles.alert}>
          {message} {remedy}
        </p>
      ))}
      <p className={styles.small}>
        {how === "lengths"
          ? "Both from the same two points of the same line on the same bar, under the same weight. Several readings may be put behind each other."
          : "Several readings of the same loop are put together as their mean."}
      </p>
      <div className={styles.actions}>
        <button type="submit" className={styles.primary}>
          Enter it
        </button>
      </div>
    </form>
  );
}

type Typed =
  | { readonly ok: true; readonly takeUpM: number; readonly standardUncertaintyM: number | undefined }
  | { readonly ok: false; readonly problems: readonly Pick<Problem, "message" | "remedy">[] };

const MOST_MM = 200;

function takeUpTyped(text: string): Typed {
  const value = readNumber(text, 0, MOST_MM);
  if (value !== undefined) return { ok: true, takeUpM: value / 1000, standardUncertaintyM: undefined };
  const message = `Found “${text.trim()}”; a take-up of 0 to ${MOST_MM} mm was expected.`;
  return { ok: false, problems: [{ message, remedy: "Correct it." }] };
}

function lengthsTyped(plain: string, looped: string): Typed {
  const lengths = (text: string): readonly number[] | undefined => {
    const parts = text.split(/[\s;]+/).filter((part) => part !== "");
    const values = parts.flatMap((part) => readNumber(part, 0, 100_000) ?? []);
    return values.length === parts.length ? values.map((value) => value / 1000) : undefined;
  };
  const [plainM, loopedM] = [lengths(plain), lengths(looped)];
  if (plainM === undefined || loopedM === undefined) {
    const message = `Found “${(plainM === undefined ? plain : looped).trim()}”; lengths in mm were expected.`;
    return { ok: false, problems: [{ message, remedy: "Put a space between several." }] };
  }
  // Both under the same weight, by what the form says; which one it is makes no difference.
  const read = takeUpFromLengths({ plainM, loopedM, plainTensionN: 50, loopedTensionN: 50 });
  return read.ok
    ? { ok: true, takeUpM: read.value.takeUpM, standardUncertaintyM: read.value.standardUncertaintyM }
    : { ok: false, problems: read.problems };
}
