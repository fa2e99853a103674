/** By what the plans are made: what may change, to what, and what counts. Each choice with what it does. */
import { type ReactNode, useEffect, useId, useRef } from "react";
import { SIDES } from "../../plan/model.ts";
import { fromUnit, inUnit, type Key, lengthDecimals, lengthUnitName, say } from "../../words/index.ts";
import { type Aim, kindName, type LineLoops, type Symmetry } from "../../workshop/index.ts";
import { rowPhrase, sidedName } from "../model/format.ts";
import { toggled } from "../model/picked.ts";
import { byRow, namesOf } from "../model/workshop-loops.ts";
import { kindsKnown, mayChangeWith, rowMayChange } from "../model/workshop-loops-book.ts";
import { OneOf } from "../parts/Choice.tsx";
import { useApp } from "../state/app.ts";
import { chooseLoops, type LoopDesk } from "../state/loops.ts";
import styles from "./Loops.module.css";
import { LoopsNumber } from "./LoopsNumber.tsx";

/** Each choice, and what it does. */
const SYMMETRY: Readonly<Record<Symmetry, readonly [name: Key, what: Key]>> = {
  same: ["loops.choices.twins.same", "loops.choices.twins.same.what"],
  prefer: ["loops.choices.twins.prefer", "loops.choices.twins.prefer.what"],
  free: ["loops.choices.twins.free", "loops.choices.twins.free.what"],
};
const AIM: Readonly<Record<Aim, readonly [name: Key, what: Key]>> = {
  mean: ["loops.choices.aim.mean", "loops.choices.aim.mean.what"],
  tolerance: ["loops.choices.aim.tolerance", "loops.choices.aim.tolerance.what"],
};

export function LoopsChoices({ desk }: { readonly desk: LoopDesk }) {
  const { choices, document } = desk;
  const { loops, wing, book } = document;
  const keepBook = useApp((state) => state.keepBook);
  const concerned = loops.filter(({ row }) => row !== "brake");
  const rows = byRow(concerned).map(([row]) => row);
  return (
    <details className={styles.fold} data-loops-part="choices">
      <summary>
        {say("loops.choices.title")}{" "}
        <small>{book.choices === undefined ? say("loops.choices.usual") : say("loops.choices.own")}</small>
      </summary>
      <div className={styles.section}>
        <Group title={say("loops.choices.lines")} what={say("loops.choices.lines.what")}>
          <div className={styles.boxes}>
            {rows.map((row) => (
              <RowBox
                key={row}
                label={rowPhrase(row)}
                state={rowMayChange(concerned, choices, row)}
                onChange={(may) =>
                  chooseLoops({
                    mayChange: mayChangeWith(
                      choices,
                      concerned.flatMap((line) => (line.row === row ? [line.lineKey] : [])),
                      may,
                    ),
                  })
                }
              />
            ))}
          </div>
          <SingleLines desk={desk} loops={concerned} names={namesOf(wing)} />
        </Group>
        <Group title={say("loops.choices.kinds")} what={say("loops.choices.kinds.what")}>
          <div className={styles.boxes}>
            {kindsKnown(concerned).map(({ id }) => (
              <label key={id} className={styles.check}>
                <input
                  type="checkbox"
                  checked={choices.kinds.has(id)}
                  data-kind={id}
                  onChange={() => chooseLoops({ kinds: toggled(choices.kinds, id) })}
                />
                {kindName({ id })}
              </label>
            ))}
          </div>
        </Group>
        <Group title={say("loops.choices.twins")} what={say(SYMMETRY[choices.symmetry][1])}>
          <OneOf
            legend={say("loops.choices.twins")}
            options={(Object.keys(SYMMETRY) as Symmetry[]).map((value) => ({
              value,
              label: say(SYMMETRY[value][0]),
            }))}
            value={choices.symmetry}
            onChange={(symmetry) => chooseLoops({ symmetry })}
          />
        </Group>
        <Group title={say("loops.choices.aim")} what={say(AIM[choices.aim][1])}>
          <OneOf
            legend={say("loops.choices.aim")}
            options={(Object.keys(AIM) as Aim[]).map((value) => ({ value, label: say(AIM[value][0]) }))}
            value={choices.aim}
            onChange={(aim) => chooseLoops({ aim })}
          />
        </Group>
        <div className={styles.ticks}>
          <label className={styles.check}>
            <input
              type="checkbox"
              checked={choices.rowsTogether}
              data-choice="rowsTogether"
              onChange={(event) => chooseLoops({ rowsTogether: event.target.checked })}
            />
            <span>
              {say("loops.choices.rows")}
              <small>{say("loops.choices.rows.what")}</small>
            </span>
          </label>
          <label className={styles.check}>
            <input
              type="checkbox"
              checked={choices.uniformFree}
              data-choice="uniformFree"
              onChange={(event) => chooseLoops({ uniformFree: event.target.checked })}
            />
            <span>
              {say("loops.choices.shared")}
              <small>{say("loops.choices.shared.what")}</small>
            </span>
          </label>
        </div>
        <div className={styles.numbers}>
          <LoopsNumber
            name="mostTakeUp"
            label={say("loops.choices.limit")}
            what={say("loops.choices.limit.what")}
            none={say("loops.choices.limit.none")}
            {...lengthUpTo(0.2)}
            value={typedOf(choices.mostTakeUpM)}
            onChange={(typed) => chooseLoops({ mostTakeUpM: metresOf(typed) })}
          />
          <LoopsNumber
            name="reserve"
            label={say("loops.choices.reserve")}
            what={say("loops.choices.reserve.what")}
            {...lengthUpTo(0.2)}
            value={typedOf(choices.reserveM)}
            onChange={(typed) => chooseLoops({ reserveM: metresOf(typed) ?? 0 })}
          />
          <LoopsNumber
            name="worth"
            label={say("loops.choices.worth")}
            what={say("loops.choices.worth.what")}
            {...lengthUpTo(0.1)}
            value={typedOf(choices.worthM)}
            onChange={(typed) => chooseLoops({ worthM: metresOf(typed) ?? 0 })}
          />
          <LoopsNumber
            name="mostChanges"
            label={say("loops.choices.most")}
            what={say("loops.choices.most.what")}
            unit=""
            none={say("loops.choices.most.none")}
            whole
            min={0}
            max={500}
            value={choices.mostChanges}
            onChange={(mostChanges) => chooseLoops({ mostChanges })}
          />
        </div>
        <Group title={say("loops.choices.weights")} what={say("loops.choices.weights.what")}>
          <div className={styles.weights}>
            {rows.map((row) => (
              <LoopsNumber
                key={row}
                name={`weight-${row}`}
                label={rowPhrase(row)}
                unit=""
                min={0}
                max={100}
                value={choices.rowWeights[row] ?? 1}
                onChange={(weight) => {
                  const { [row]: _, ...others } = choices.rowWeights;
                  chooseLoops({
                    rowWeights: weight === undefined || weight === 1 ? others : { ...others, [row]: weight },
                  });
                }}
              />
            ))}
          </div>
        </Group>
        <div className={styles.actions}>
          <button
            type="button"
            className={styles.plain}
            disabled={book.choices === undefined}
            onClick={() => keepBook((now) => ({ ...now, choices: undefined }))}
          >
            {say("loops.choices.reset")}
          </button>
        </div>
      </div>
    </details>
  );
}

const typedOf = (metres: number | undefined): number | undefined =>
  metres === undefined ? undefined : inUnit(metres);
const metresOf = (typed: number | undefined): number | undefined =>
  typed === undefined ? undefined : fromUnit(typed);

/** Unit, decimals and range of a field for lengths up to so much [m]. */
const lengthUpTo = (mostM: number) => ({
  unit: lengthUnitName(),
  decimals: lengthDecimals(3),
  min: 0,
  max: inUnit(mostM),
});

function Group(props: { readonly title: string; readonly what: string; readonly children: ReactNode }) {
  const id = useId();
  return (
    <fieldset className={styles.group} aria-describedby={id}>
      <legend>{props.title}</legend>
      {props.children}
      <p id={id} className={styles.small}>
        {props.what}
      </p>
    </fieldset>
  );
}

function RowBox(props: {
  readonly label: string;
  readonly state: "all" | "some" | "none";
  readonly onChange: (may: boolean) => void;
}) {
  const box = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (box.current !== null) box.current.indeterminate = props.state === "some";
  }, [props.state]);
  return (
    <label className={styles.check}>
      <input
        ref={box}
        type="checkbox"
        checked={props.state === "all"}
        onChange={(event) => props.onChange(event.target.checked)}
      />
      {props.state === "some" ? say("loops.choices.part", { row: props.label }) : props.label}
    </label>
  );
}

function SingleLines({
  desk,
  loops,
  names,
}: {
  readonly desk: LoopDesk;
  readonly loops: readonly LineLoops[];
  readonly names: ReadonlyMap<string, string>;
}) {
  const { choices } = desk;
  const ids = [...new Set(loops.map(({ lineKey }) => names.get(lineKey) ?? lineKey))];
  return (
    <details className={styles.inner}>
      <summary>{say("loops.choices.single")}</summary>
      <ul className={styles.singles}>
        {ids.map((id) => (
          <li key={id}>
            <span>{id}</span>
            {SIDES.map((side) => {
              const line = loops.find((each) => each.side === side && names.get(each.lineKey) === id);
              return line === undefined ? null : (
                <label key={side} className={styles.check}>
                  <input
                    type="checkbox"
                    aria-label={say("loops.choices.may", { line: sidedName(id, side) })}
                    checked={choices.mayChange.has(line.lineKey)}
                    onChange={(event) =>
                      chooseLoops({ mayChange: mayChangeWith(choices, [line.lineKey], event.target.checked) })
                    }
                  />
                  {say("workshop.side", { side })}
                </label>
              );
            })}
          </li>
        ))}
      </ul>
    </details>
  );
}
