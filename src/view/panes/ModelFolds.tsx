/** What the figures rest on: the assumptions and what they leave open, the canopy as it was fitted, the solves' balance. */
import type { Analysis } from "../../diagnosis/model.ts";
import { length, say } from "../../words/index.ts";
import { bandRows } from "../model/bandTable.ts";
import { balanceRow, fitRows, misfits } from "../model/fitTable.ts";
import { rowName } from "../model/format.ts";
import { MarkTape } from "../parts/MarkTape.tsx";
import { useApp, useLive } from "../state/app.ts";
import styles from "./Mechanics.module.css";

export function ModelFolds({ analysis }: { readonly analysis: Analysis }) {
  return (
    <>
      <BandFold analysis={analysis} />
      <FitFold analysis={analysis} />
    </>
  );
}

function BandFold({ analysis }: { readonly analysis: Analysis }) {
  const band = useApp((state) => state.band);
  if (band === undefined) return null;
  const sigma = new Map(analysis.model.ribs.map((rib) => [`${rib.side} ${rib.rib}`, rib.sigma]));
  const rows = bandRows(band, (side, rib) => sigma.get(`${side} ${rib}`) ?? 0);
  return (
    <details className={styles.fold} data-fold="band">
      <summary>{say("panes.band")}</summary>
      <p>{say("panes.band.text")}</p>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">{say("panes.band.assumed")}</th>
            <th scope="col">{say("panes.band.middle")}</th>
            <th scope="col">{say("panes.band.tip")}</th>
            <th scope="col">{say("panes.band.mean")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.name}>
              <th scope="row">
                {row.name}
                <small>{row.explanation}</small>
              </th>
              <td>{row.middle}</td>
              <td>{row.tip}</td>
              <td>{row.mean}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className={styles.small}>{say("panes.band.rest")}</p>
    </details>
  );
}

function FitFold({ analysis }: { readonly analysis: Analysis }) {
  const live = useLive();
  const { model } = analysis;
  const missed = misfits(analysis);
  const states = live?.states;
  const balance = [
    { id: "specified", state: states?.specified },
    { id: "measured", state: states?.measured },
    { id: "tried", state: states?.tried },
  ].flatMap(({ id, state }) =>
    state === undefined ? [] : [{ id, ...balanceRow(say("stage.state", { state: id }), model, state) }],
  );
  return (
    <details className={styles.fold} data-fold="fit">
      <summary>{say("panes.fit")}</summary>
      <p>{say("panes.fit.text")}</p>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">{say("panes.fit.outline")}</th>
            <th scope="col">{say("panes.fit.value")}</th>
          </tr>
        </thead>
        <tbody>
          {fitRows(model).map((row) => (
            <tr key={row.name}>
              <th scope="row">
                {row.name}
                <small>{row.origin}</small>
              </th>
              <td>
                {row.value}
                {row.spread === "" ? null : <small>{row.spread}</small>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <h3>{say("panes.fit.missed")}</h3>
      <p>
        {say("panes.fit.missed.text", {
          rms: missed.rms,
          worst: missed.worst.join(", "),
          rest: length(model.fit.largestRemainderM, 1),
        })}
      </p>
      <ul className={styles.misfits}>
        {missed.marks.map(({ row, marks }) => (
          <li key={row}>
            <span>{rowName(row)}</span>
            <MarkTape
              marks={marks}
              extentM={missed.extentM}
              rangeM={missed.extentM * 4}
              toleranceM={undefined}
              height={18}
            />
          </li>
        ))}
      </ul>
      <p className={styles.small}>{say("panes.fit.scale", { extent: length(missed.extentM, 1) })}</p>
      <h3>{say("panes.fit.solves")}</h3>
      <dl className={styles.effects}>
        {balance.map(({ id, state, text }) => (
          <div key={id} data-balance={id}>
            <dt>{state}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
