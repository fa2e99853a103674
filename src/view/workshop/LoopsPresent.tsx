/** The loops as they are: recorded line by line or a row at a time; what isn't recorded is taken to be as specified. */
import { SIDES } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { kindName, type LineLoops, type LoopKind } from "../../workshop/index.ts";
import { rowPhrase, sidedName } from "../model/format.ts";
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
        {say("loops.present.title")}{" "}
        <small>
          {recorded === 0
            ? say("loops.present.specified")
            : say("loops.present.recorded", { recorded, all: loops.length })}
        </small>
      </summary>
      <div className={styles.section}>
        <p className={styles.small}>{say("loops.present.intro")}</p>
        {byRow(loops).map(([row, lines]) => (
          <fieldset key={row} className={styles.group}>
            <legend>{rowPhrase(row)}</legend>
            <KindSelect
              label={say("loops.present.all", { count: lines.length })}
              said={say("loops.present.row", { row })}
              lines={lines}
              kinds={kindsOf(lines)}
              onRecord={record}
              name={`row-${row}`}
            />
            <details className={styles.inner}>
              <summary>{say("loops.present.each")}</summary>
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
                                label={say("workshop.side", { side })}
                                said={say("loops.present.now", { line: sidedName(name, side) })}
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
  const specified = new Set(
    lines.flatMap((line) => {
      const state = line.states[line.specified];
      return state === undefined ? [] : [kindName(state.kind)];
    }),
  );
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
            {say("loops.present.mixed")}
          </option>
        ) : null}
        <option value="specified">
          {specified.size === 1 && only !== undefined
            ? say("loops.present.loop-specified", { loop: only })
            : say("loops.present.as-specified")}
        </option>
        {kinds.map((kind) => (
          <option key={kind.id} value={kind.id}>
            {kindName(kind)}
          </option>
        ))}
      </select>
    </label>
  );
}
