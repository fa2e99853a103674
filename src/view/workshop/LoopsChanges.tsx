/** The changes one by one, by row: of what is tried and of the plan that was chosen, each to be taken up or left. */
import { counted, rowPhrase, signedMm } from "../model/format.ts";
import { travelShort, travelText } from "../model/riggingText.ts";
import { type ChangeEntry, changeEntries, takeUpText } from "../model/workshop-loops.ts";
import { pickLine, useApp, useLive } from "../state/app.ts";
import { asTheyAre, type LoopDesk, tieAll } from "../state/loops.ts";
import styles from "./Loops.module.css";

export function LoopsChanges({ desk }: { readonly desk: LoopDesk }) {
  const { document, tried, offered } = desk;
  const undo = useApp((state) => state.undo);
  const redo = useApp((state) => state.redo);
  const history = useApp((state) => state.history);
  const lengths = useApp((state) => state.choices.trials.size);
  const picked = useApp(({ choices }) => (choices.picked.kind === "line" ? choices.picked.key : undefined));
  const travel = useLive()?.states.travel.tried;
  const leastM = document.wing.tolerances.minBrakeFreeTravelM;
  const rows = changeEntries(document.wing, document.loops, tried.changes, offered);
  const set = (entry: ChangeEntry, on: boolean): void => {
    const next = new Map(tried.chosen);
    for (const { lineKey, kindId } of entry.lines) {
      if (on) next.set(lineKey, kindId);
      else next.delete(lineKey);
    }
    tieAll(next);
  };
  const count = tried.changes.length;
  return (
    <section className={styles.section} aria-label="The changes" data-loops-changes={count}>
      <header className={styles.head}>
        <h2>
          Changes <small>{count === 0 ? "none tried yet" : `${count} tried`}</small>
        </h2>
        <span className={styles.ways}>
          <button type="button" className={styles.link} disabled={history.past.length === 0} onClick={undo}>
            Undo
          </button>
          <button type="button" className={styles.link} disabled={history.future.length === 0} onClick={redo}>
            Redo
          </button>
          <button type="button" className={styles.link} disabled={count === 0} onClick={asTheyAre}>
            Loops as they are
          </button>
        </span>
      </header>
      {rows.length === 0 ? (
        <p className={styles.small}>Loops that are chosen above or changed by hand stand here.</p>
      ) : (
        <table className={styles.changes}>
          <thead>
            <tr>
              <th scope="col">
                <span className="unseen">Tried</span>
              </th>
              <th scope="col">Line</th>
              <th scope="col">From → to</th>
              <th scope="col">mm</th>
            </tr>
          </thead>
          {rows.map(([row, entries]) => (
            <tbody key={row}>
              <tr>
                <th scope="rowgroup" colSpan={4} className={styles.rowName}>
                  {rowPhrase(row)}
                  <small>
                    {" "}
                    {counted(
                      entries.reduce((sum, { lines }) => sum + lines.length, 0),
                      "line",
                    )}
                  </small>
                </th>
              </tr>
              {entries.map((entry) => (
                <tr
                  key={entry.id}
                  data-change={entry.lines.map(({ lineKey }) => lineKey).join(" ")}
                  data-tried={entry.tried || undefined}
                  data-picked={entry.lines.some(({ lineKey }) => lineKey === picked) || undefined}
                >
                  <td>
                    <label className={styles.tick}>
                      <input
                        type="checkbox"
                        checked={entry.tried}
                        onChange={(event) => set(entry, event.target.checked)}
                        aria-label={`Try ${entry.name} ${entry.lines.map(({ side }) => side).join(" and ")}: ${entry.to.kind.name}`}
                      />
                    </label>
                  </td>
                  <th scope="row">
                    <strong>{entry.name}</strong>
                    <span className={styles.sides}>
                      {entry.lines.map(({ lineKey, side }) => (
                        <button
                          key={lineKey}
                          type="button"
                          className={styles.link}
                          aria-label={`Show ${entry.name} ${side}`}
                          onClick={() => pickLine(lineKey)}
                        >
                          {side}
                        </button>
                      ))}
                    </span>
                  </th>
                  <td>
                    {entry.from.kind.name} → <strong>{entry.to.kind.name}</strong>
                    <small>{takeUpText(entry.to)}</small>
                  </td>
                  <td className={styles.number}>
                    {signedMm(entry.changeM, 1)}
                    <small>± {(entry.standardUncertaintyM * 1000).toFixed(1)}</small>
                  </td>
                </tr>
              ))}
            </tbody>
          ))}
        </table>
      )}
      {travel !== undefined && travelShort(travel, leastM) ? (
        <p className={styles.limit} data-loops-travel>
          With this, free brake travel in the model is {travelText(travel)}; at least{" "}
          {Math.round(leastM * 1000)} mm are set. Changed rear rows move the trailing edge: set the brakes
          anew after the work.
        </p>
      ) : null}
      <p className={styles.small}>
        Plus is longer: a loop that is taken out gives length, one that is tied takes it up. ± is one standard
        uncertainty.
        {lengths > 0
          ? ` ${counted(lengths, "length")} tried besides: drawn in the 3D, but not counted in the figures here.`
          : ""}
      </p>
    </section>
  );
}
