/** All lines to be read, by row and side, each with what has become of it; a tap goes to one. */
import { useMemo } from "react";
import { SIDES, type Wing } from "../../plan/model.ts";
import { keyOfTarget, type Session, targetText } from "../../readings/session/index.ts";
import { say } from "../../words/index.ts";
import { type Cell, mapOf } from "../model/measure-map.ts";
import { measure } from "../state/measure-app.ts";
import styles from "./LineMap.module.css";

const SIGN: Readonly<Record<Cell["state"], string>> = { open: "", read: "✓", doubtful: "?", skipped: "»" };

/** Where each target stands in its row: ribs outwards, single lines as the plan has them. */
function placesOf(wing: Wing): ReadonlyMap<string, number> {
  return new Map([
    ...wing.tabs.map(({ id, side, rib, chordFraction }): [string, number] => [
      keyOfTarget({ kind: "tab", id, side }),
      rib + (chordFraction ?? 0) / 2,
    ]),
    ...wing.lines.map(({ id, side }, i): [string, number] => [keyOfTarget({ kind: "line", id, side }), i]),
  ]);
}

export function LineMap(props: {
  readonly session: Session;
  readonly plan: Wing;
  readonly onGone: () => void;
}) {
  const { session, plan, onGone } = props;
  const rows = useMemo(() => mapOf(session, placesOf(plan)), [session, plan]);
  return (
    <div className={styles.map} data-map>
      {rows.map(({ row, kind, sides }) => (
        <section key={`${kind} ${row}`} className={styles.row}>
          <h3>{say("measure.map.row", { kind, row })}</h3>
          {SIDES.map((side) =>
            sides[side].length === 0 ? null : (
              <div key={side} className={styles.side} data-side={side}>
                <span className={styles.sideName}>{say("measure.side", { side })}</span>
                <ul>
                  {sides[side].map((cell) => (
                    <li key={cell.key}>
                      <button
                        type="button"
                        className={styles.cell}
                        data-cell={cell.key}
                        data-state={cell.state}
                        aria-current={cell.isNext ? "step" : undefined}
                        aria-label={say("measure.map.cell", {
                          target: targetText(cell.step.target),
                          state: cell.state,
                          note: cell.hasNote ? "yes" : "no",
                        })}
                        onClick={() => {
                          void measure.getState().goTo(cell.step);
                          onGone();
                        }}
                      >
                        <span>{cell.step.target.id}</span>
                        <b aria-hidden="true">
                          {SIGN[cell.state]}
                          {cell.hasNote ? "*" : ""}
                        </b>
                      </button>
                    </li>
                  ))}
                </ul>
              </div>
            ),
          )}
        </section>
      ))}
      <p className={styles.key}>{say("measure.map.key")}</p>
    </div>
  );
}
