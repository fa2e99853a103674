/** By what the plans are made: what may change, to what, and what counts. Each choice with what it does. */
import { type ReactNode, useEffect, useId, useRef } from "react";
import { SIDES } from "../../plan/model.ts";
import type { Aim, LineLoops, Symmetry } from "../../workshop/index.ts";
import { rowPhrase, sidedName } from "../model/format.ts";
import { toggled } from "../model/picked.ts";
import { byRow, namesOf } from "../model/workshop-loops.ts";
import { kindsKnown, mayChangeWith, rowMayChange } from "../model/workshop-loops-book.ts";
import { OneOf } from "../parts/Choice.tsx";
import { useApp } from "../state/app.ts";
import { chooseLoops, type LoopDesk } from "../state/loops.ts";
import styles from "./Loops.module.css";
import { LoopsNumber } from "./LoopsNumber.tsx";

const SYMMETRY: Readonly<Record<Symmetry, readonly [string, string]>> = {
  same: ["alike", "A line and its mirror twin end in the same loop."],
  prefer: ["alike if it pays", "Twins may differ, at the cost of one change more."],
  free: ["each alone", "Each side is planned for itself; the wing may end up with unlike loops."],
};
const AIM: Readonly<Record<Aim, readonly [string, string]>> = {
  mean: ["least in all", "The mean square of what is left over all paths becomes least."],
  tolerance: [
    "within tolerance",
    "As little as possible beyond the tolerance first; the mean square after that.",
  ],
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
        What may change, and what counts{" "}
        <small>{book.choices === undefined ? "as to begin with" : "chosen here"}</small>
      </summary>
      <div className={styles.section}>
        <Group title="Lines that may change" what="A line that isn’t ticked keeps the loop it has.">
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
        <Group title="Loops that may be tied" what="Others are left alone where they are, but not tied anew.">
          <div className={styles.boxes}>
            {kindsKnown(concerned).map(({ id, name }) => (
              <label key={id} className={styles.check}>
                <input
                  type="checkbox"
                  checked={choices.kinds.has(id)}
                  data-kind={id}
                  onChange={() => chooseLoops({ kinds: toggled(choices.kinds, id) })}
                />
                {name}
              </label>
            ))}
          </div>
        </Group>
        <Group title="Twins" what={SYMMETRY[choices.symmetry][1]}>
          <OneOf
            legend="Twins"
            options={(Object.keys(SYMMETRY) as Symmetry[]).map((value) => ({
              value,
              label: SYMMETRY[value][0],
            }))}
            value={choices.symmetry}
            onChange={(symmetry) => chooseLoops({ symmetry })}
          />
        </Group>
        <Group title="What counts most" what={AIM[choices.aim][1]}>
          <OneOf
            legend="What counts most"
            options={(Object.keys(AIM) as Aim[]).map((value) => ({ value, label: AIM[value][0] }))}
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
              Rows together
              <small>All lines of a row that may change go the same number of loops.</small>
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
              The shared part may stay
              <small>
                What all main rows are off by alike isn’t counted: it hardly tips the profile. Off: every path
                is brought towards its specified length.
              </small>
            </span>
          </label>
        </div>
        <div className={styles.numbers}>
          <LoopsNumber
            name="mostTakeUp"
            label="Maker’s limit"
            what="No loop that takes up more is tied."
            unit="mm"
            none="none"
            min={0}
            max={200}
            value={inMm(choices.mostTakeUpM)}
            onChange={(mm) => chooseLoops({ mostTakeUpM: inMetres(mm) })}
          />
          <LoopsNumber
            name="reserve"
            label="Reserve to keep"
            what="A line that is changed keeps this much to be taken out later."
            unit="mm"
            min={0}
            max={200}
            value={inMm(choices.reserveM)}
            onChange={(mm) => chooseLoops({ reserveM: inMetres(mm) ?? 0 })}
          />
          <LoopsNumber
            name="worth"
            label="Worth of a change"
            what="A change must do as much as bringing in one path that is off by this."
            unit="mm"
            min={0}
            max={100}
            value={inMm(choices.worthM)}
            onChange={(mm) => chooseLoops({ worthM: inMetres(mm) ?? 0 })}
          />
          <LoopsNumber
            name="mostChanges"
            label="Most changes"
            what="The best plan has no more; the chart goes on."
            unit=""
            none="any"
            whole
            min={0}
            max={500}
            value={choices.mostChanges}
            onChange={(mostChanges) => chooseLoops({ mostChanges })}
          />
        </div>
        <Group title="Weight of rows" what="1 is as usual; 2 counts a row’s paths twice, 0 not at all.">
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
            Back to the usual choices
          </button>
        </div>
      </div>
    </details>
  );
}

const inMm = (metres: number | undefined): number | undefined =>
  metres === undefined ? undefined : metres * 1000;
const inMetres = (mm: number | undefined): number | undefined => (mm === undefined ? undefined : mm / 1000);

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
      {props.label}
      {props.state === "some" ? " (in part)" : ""}
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
      <summary>Single lines</summary>
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
                    aria-label={`${sidedName(id, side)} may change`}
                    checked={choices.mayChange.has(line.lineKey)}
                    onChange={(event) =>
                      chooseLoops({ mayChange: mayChangeWith(choices, [line.lineKey], event.target.checked) })
                    }
                  />
                  {side}
                </label>
              );
            })}
          </li>
        ))}
      </ul>
    </details>
  );
}
