/** Every line on a maillon with its loop, to be changed by hand: by row, both sides beside each other. */
import { SIDES } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { rowPhrase, sidedName } from "../model/format.ts";
import { handRows } from "../model/workshop-loops-hand.ts";
import { pickLine, useApp } from "../state/app.ts";
import { type LoopDesk, tieByHand } from "../state/loops.ts";
import styles from "./Loops.module.css";
import { LoopsStepper } from "./LoopsStepper.tsx";

export function LoopsByHand({ desk }: { readonly desk: LoopDesk }) {
  const { document, tried } = desk;
  const withTwin = useApp((state) => state.withTwin);
  const setWithTwin = useApp((state) => state.setWithTwin);
  const picked = useApp(({ choices }) => (choices.picked.kind === "line" ? choices.picked.key : undefined));
  return (
    <section className={styles.section} aria-label={say("loops.hand.title")} data-loops-part="hand">
      <header className={styles.head}>
        <h2>{say("loops.hand.title")}</h2>
        <label className={styles.check}>
          <input
            type="checkbox"
            checked={withTwin}
            onChange={(event) => setWithTwin(event.target.checked)}
            data-loops-twin
          />
          {say("loops.hand.twin")}
        </label>
      </header>
      {handRows(document.wing, document.loops, tried.chosen).map(([row, entries]) => (
        <table key={row} className={styles.hand}>
          <thead>
            <tr>
              <th scope="col" className={styles.rowName}>
                {rowPhrase(row)}
              </th>
              {SIDES.map((side) => (
                <th key={side} scope="col">
                  {say("workshop.side", { side })}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {entries.map(({ name, sides }) => (
              <tr key={name} data-picked={SIDES.some((side) => sides[side]?.lineKey === picked) || undefined}>
                <th scope="row">
                  {name}
                  <span className={styles.sides}>
                    {SIDES.map((side) => {
                      const line = sides[side];
                      return line === undefined ? null : (
                        <button
                          key={side}
                          type="button"
                          className={styles.link}
                          aria-label={say("loops.show", { line: sidedName(name, side) })}
                          onClick={() => pickLine(line.lineKey)}
                        >
                          {say("loops.hand.side", { side })}
                        </button>
                      );
                    })}
                  </span>
                </th>
                {SIDES.map((side) => {
                  const line = sides[side];
                  return (
                    <td key={side}>
                      {line === undefined ? null : (
                        <LoopsStepper line={line} onTie={(to) => tieByHand(line.lineKey, to)} />
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      ))}
      <p className={styles.small}>{say("loops.hand.note")}</p>
    </section>
  );
}
