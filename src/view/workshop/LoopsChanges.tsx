/** The changes one by one, by row: of what is tried and of the plan that was chosen, each to be taken up or left. */
import { length, lengthNumber, lengthUnitName, say } from "../../words/index.ts";
import { kindName } from "../../workshop/index.ts";
import { rowPhrase, sidedName, signedMm } from "../model/format.ts";
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
    <section className={styles.section} aria-label={say("loops.changes.title")} data-loops-changes={count}>
      <header className={styles.head}>
        <h2>
          {say("loops.changes.head")}{" "}
          <small>{count === 0 ? say("loops.changes.none") : say("loops.changes.count", { count })}</small>
        </h2>
        <span className={styles.ways}>
          <button type="button" className={styles.link} disabled={history.past.length === 0} onClick={undo}>
            {say("loops.changes.undo")}
          </button>
          <button type="button" className={styles.link} disabled={history.future.length === 0} onClick={redo}>
            {say("loops.changes.redo")}
          </button>
          <button type="button" className={styles.link} disabled={count === 0} onClick={asTheyAre}>
            {say("loops.present.title")}
          </button>
        </span>
      </header>
      {rows.length === 0 ? (
        <p className={styles.small}>{say("loops.changes.empty")}</p>
      ) : (
        <table className={styles.changes}>
          <thead>
            <tr>
              <th scope="col">
                <span className="unseen">{say("loops.head.tried")}</span>
              </th>
              <th scope="col">{say("loops.head.line")}</th>
              <th scope="col">{say("loops.head.change")}</th>
              <th scope="col">{lengthUnitName()}</th>
            </tr>
          </thead>
          {rows.map(([row, entries]) => (
            <tbody key={row}>
              <tr>
                <th scope="rowgroup" colSpan={4} className={styles.rowName}>
                  {rowPhrase(row)}
                  <small>
                    {" "}
                    {say("loops.lines", {
                      count: entries.reduce((sum, { lines }) => sum + lines.length, 0),
                    })}
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
                        aria-label={say("loops.changes.try", {
                          name: entry.name,
                          sides: entry.lines.length > 1 ? "both" : (entry.lines[0]?.side ?? "both"),
                          loop: kindName(entry.to.kind),
                        })}
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
                          aria-label={say("loops.show", { line: sidedName(entry.name, side) })}
                          onClick={() => pickLine(lineKey)}
                        >
                          {say("workshop.side", { side })}
                        </button>
                      ))}
                    </span>
                  </th>
                  <td>
                    {kindName(entry.from.kind)} → <strong>{kindName(entry.to.kind)}</strong>
                    <small>{takeUpText(entry.to)}</small>
                  </td>
                  <td className={styles.number}>
                    {signedMm(entry.changeM, 1)}
                    <small>± {lengthNumber(entry.standardUncertaintyM, 1)}</small>
                  </td>
                </tr>
              ))}
            </tbody>
          ))}
        </table>
      )}
      {travel !== undefined && travelShort(travel, leastM) ? (
        <p className={styles.limit} data-loops-travel>
          {say("loops.changes.travel", { travel: travelText(travel) ?? "–", least: length(leastM) })}
        </p>
      ) : null}
      <p className={styles.small}>
        {say("loops.changes.note")}
        {lengths > 0 ? ` ${say("loops.changes.lengths", { count: lengths })}` : ""}
      </p>
    </section>
  );
}
