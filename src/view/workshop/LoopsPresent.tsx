/** The loops as they are: recorded line by line or a row at a time; what isn't recorded is taken to be as specified. */
import { SIDES } from "../../plan/model.ts";
import type { LineLoops, LoopKind } from "../../workshop/index.ts";
import { counted, rowPhrase } from "../model/format.ts";
import { byRow, namesOf } from "../model/workshop-loops.ts";
import { kindsOf, recordedAs, withPresent } from "../model/workshop-loops-book.ts";
import { useApp } from "../state/app.ts";
import type { LoopDesk } from "../state/loops.ts";
import styles from "./Loops.module.css";

export function LoopsPresent({ desk }: { readonly desk: LoopDesk }) {
  const { document } = desk;
  const { loops, wing } = document;
  const keepBook = useApp((state) => state.keepBook);
  const names = namesOf(wing);
  const recorded = loops.filter(({ presentRecorded }) => presentRecorded).length;
  const record = (lines: readonly LineLoops[], kindId: string | undefined): void =>
    keepBook((book) =>
      withPresent(
        book,
        lines.map(({ lineKey }) => lineKey),
        kindId,
      ),
    );
  return (
    <details className={styles.fold} data-loops-part="present">
      <summary>
        Loops as they are{" "}
        <small>{recorded === 0 ? "taken as specified" : `${recorded} of ${loops.length} recorded`}</small>
      </summary>
      <div className={styles.section}>
        <p className={styles.small}>
          What hangs on the maillons now, and was there when the paths were read. Changes are counted from it.
        </p>
        {byRow(loops).map(([row, lines]) => (
          <fieldset key={row} className={styles.group}>
            <legend>{rowPhrase(row)}</legend>
            <KindSelect
              label={`all ${counted(lines.length, "line")}`}
              said={`All lines of ${rowPhrase(row)} now`}
              lines={lines}
              kinds={kindsOf(lines)}
              onRecord={record}
              name={`row-${row}`}
            />
            <details className={styles.inner}>
              <summary>Line by line</summary>
              <table className={styles.present}>
                <tbody>
                  {[...new Set(lines.map(({ lineKey }) => names.get(lineKey) ?? lineKey))].map((name) => (
                    <tr key={name}>
                      <th scope="row">{name}</th>
                      {SIDES.map((side) => {
                        const line = lines.find(
                          (each) => each.side === side && names.get(each.lineKey) === name,
                        );
                        return (
                          <td key={side}>
                            {line === undefined ? null : (
                              <KindSelect
                                label={side}
                                said={`${name} ${side} now`}
                                lines={[line]}
                                kinds={kindsOf([line])}
                                onRecord={record}
                                name={line.lineKey}
                              />
                            )}
                          </td>
                        );
                      })}
                    </tr>
                  ))}
                </tbody>
              </table>
            </details>
          </fieldset>
        ))}
      </div>
    </details>
  );
}

function KindSelect(props: {
  readonly label: string;
  readonly said: string;
  readonly lines: readonly LineLoops[];
  readonly kinds: readonly LoopKind[];
  readonly name: string;
  readonly onRecord: (lines: readonly LineLoops[], kindId: string | undefined) => void;
}) {
  const { lines, kinds } = props;
  const value = recordedAs(lines);
  const specified = new Set(lines.map((line) => line.states[line.specified]?.kind.name ?? ""));
  const [only] = specified;
  return (
    <label className={styles.select}>
      <span>{props.label}</span>
      <select
        aria-label={props.said}
        data-present={props.name}
        value={value}
        onChange={({ target }) =>
          props.onRecord(lines, target.value === "specified" ? undefined : target.value)
        }
      >
        {value === "mixed" ? (
          <option value="mixed" disabled>
            not all alike
          </option>
        ) : null}
        <option value="specified">
          {specified.size === 1 && only !== "" ? `${only}, as specified` : "as specified"}
        </option>
        {kinds.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}
