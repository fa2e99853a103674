/** What the figures rest on: the assumptions and what they leave open, the canopy as it was fitted, the solves' balance. */
import type { Analysis } from "../../diagnosis/model.ts";
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
      <summary>What the angles owe to assumptions</summary>
      <p>
        Some things no plan says. Each was moved to both ends of what is plausible and the wing solved again;
        the incidence change then moves by this much. In the chart’s 95 % band all of them are counted
        together with the readings’ uncertainty.
      </p>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Assumed</th>
            <th scope="col">Middle</th>
            <th scope="col">Tip</th>
            <th scope="col">Mean</th>
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
      <p className={styles.small}>
        Worked out for the wing as measured at trim. Errors of reading aren’t in these figures, and what the
        model leaves out altogether is in none.
      </p>
    </details>
  );
}

function FitFold({ analysis }: { readonly analysis: Analysis }) {
  const live = useLive();
  const { model } = analysis;
  const missed = misfits(analysis);
  const states = live?.states;
  const balance = [
    { name: "As specified", state: states?.specified },
    { name: "As measured", state: states?.measured },
    { name: "As tried", state: states?.tried },
  ].flatMap(({ name, state }) => (state === undefined ? [] : [balanceRow(name, model, state)]));
  return (
    <details className={styles.fold} data-fold="fit">
      <summary>How the canopy was found</summary>
      <p>
        The plan gives line lengths, not the canopy. Its outline was found so that the lines reach their tabs.
        Fabric and bending stiffness, the section and the lift’s share along the chord are typical values, not
        this wing’s.
      </p>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Outline</th>
            <th scope="col">Value and spread</th>
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
      <h3>Where it missed the plan’s paths</h3>
      <p>
        By {missed.rmsMm} mm (root mean square), the most at{" "}
        {missed.largest.map(({ tab, mm }) => `${tab} ${mm}`).join(", ")}. The rest was absorbed: the specified
        state meets every main path to {(model.fit.largestRemainderM * 1000).toFixed(1)} mm.
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
      <p className={styles.small}>
        From {(missed.extentM * 1000).toFixed(1)} mm too near (left) to as much too far; left tabs above,
        right below.
      </p>
      <h3>How the solves ended</h3>
      <dl className={styles.effects}>
        {balance.map(({ state, text }) => (
          <div key={state} data-balance={state}>
            <dt>{state}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
