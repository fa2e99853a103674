/** Rows against each other: each row's mean less that of every row behind it, with its uncertainty and its decision. */
import { outcomeCase } from "../../diagnosis/conformity.ts";
import { trimmedMm } from "../../diagnosis/wording.ts";
import type { Row } from "../../plan/model.ts";
import { lengthUnitName, say, sayParts } from "../../words/index.ts";
import { rowName, signedMm } from "../model/format.ts";
import {
  MATRIX_SIDES,
  type MatrixSides,
  type RowDifference,
  type RowDifferences,
} from "../model/judging-rows.ts";
import { expandedText, outcomeText, valueText } from "../model/judging-words.ts";
import { OneOf } from "../parts/Choice.tsx";
import { DecisionTape } from "./DecisionTape.tsx";
import judging from "./Judging.module.css";
import styles from "./RowMatrix.module.css";
import { JudgingCaution, OutcomeMark } from "./Verdict.tsx";

export interface RowMatrixProps {
  readonly matrices: Readonly<Record<MatrixSides, RowDifferences>>;
  readonly sides: MatrixSides;
  readonly onSides: (sides: MatrixSides) => void;
  /** Two rows picked out, front one first. */
  readonly picked: readonly [Row, Row] | undefined;
  /** The two rows' lines of the sides compared; the cell picked already gives undefined. */
  readonly onPick: (difference: RowDifference | undefined) => void;
  /** Half range of the colour scale [m]. */
  readonly rangeM: number;
}

export function RowMatrix(props: RowMatrixProps) {
  const { picked } = props;
  const matrix = props.matrices[props.sides];
  const rows = matrix.means.map(({ row }) => row);
  return (
    <section className={judging.section} aria-label={say("judging.rows")} data-judging="rows">
      <header className={judging.head}>
        <h2>{say("judging.rows")}</h2>
        <span className={judging.screenOnly}>
          <OneOf
            legend={say("judging.rows.sides")}
            options={MATRIX_SIDES.map((value) => ({ value, label: say("judging.sides", { sides: value }) }))}
            value={props.sides}
            onChange={props.onSides}
          />
        </span>
      </header>
      <p className={judging.lead}>
        {sayParts("judging.rows.lead", {
          sides: props.sides,
          unit: lengthUnitName(),
          limit: (
            <span key="limit" className={judging.figures}>
              ±{trimmedMm(matrix.limitM)}
            </span>
          ),
        })}
      </p>
      {rows.length < 2 ? (
        <p className={judging.empty}>{say("judging.rows.few")}</p>
      ) : (
        <table className={styles.matrix} data-table="row-differences">
          <caption className="unseen">{say("judging.rows.caption", { sides: props.sides })}</caption>
          <tbody>
            {matrix.means.map((mean, place) => (
              <tr key={mean.row}>
                {place === 0 ? null : <td colSpan={place} />}
                <th scope="row">
                  <div className={styles.row}>
                    <strong>{rowName(mean.row)}</strong>
                    <span>{say("judging.mean")}</span>
                    <span className={judging.figures}>{signedMm(mean.meanM, 1)}</span>
                    <span className={judging.figures}>
                      {mean.meanM === undefined
                        ? say("judging.not-read")
                        : expandedText(mean.standardUncertaintyM)}
                    </span>
                  </div>
                </th>
                {rows.slice(place + 1).map((rear) => {
                  const difference = matrix.differences.find(
                    (each) => each.front === mean.row && each.rear === rear,
                  );
                  return (
                    <td key={rear}>
                      {difference === undefined ? (
                        <div className={styles.none}>
                          {say("judging.rows.cell.none", { front: mean.row, rear })}
                        </div>
                      ) : (
                        <Cell
                          difference={difference}
                          matrix={matrix}
                          rangeM={props.rangeM}
                          picked={picked?.[0] === mean.row && picked[1] === rear}
                          onPick={props.onPick}
                        />
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <JudgingCaution />
    </section>
  );
}

function Cell(props: {
  readonly difference: RowDifference;
  readonly matrix: RowDifferences;
  readonly rangeM: number;
  readonly picked: boolean;
  readonly onPick: RowMatrixProps["onPick"];
}) {
  const { difference, matrix } = props;
  const { front, rear, valueM, standardUncertaintyM } = difference;
  const { outcome } = difference.decision;
  return (
    <button
      type="button"
      className={styles.cell}
      data-outcome={outcome}
      data-rows={`${front}${rear}`}
      aria-pressed={props.picked}
      aria-label={say("judging.rows.cell", {
        front,
        rear,
        sides: matrix.sides,
        value: valueText(valueM, standardUncertaintyM),
        outcome: outcomeCase(outcome),
      })}
      title={difference.decision.sentence}
      onClick={() => props.onPick(props.picked ? undefined : difference)}
    >
      <span className={styles.what}>
        {front} − {rear}
      </span>
      <span className={styles.value}>{signedMm(valueM, 1)}</span>
      <span className={styles.spread}>{expandedText(standardUncertaintyM)}</span>
      <span className={styles.tape}>
        <DecisionTape
          valueM={valueM}
          expandedM={2 * standardUncertaintyM}
          limits={{ lower: -matrix.limitM, upper: matrix.limitM }}
          axisM={[-matrix.extentM, matrix.extentM]}
          rangeM={props.rangeM}
        />
      </span>
      <span className={styles.word}>
        <OutcomeMark outcome={outcome} />
        {outcomeText(outcome)}
      </span>
    </button>
  );
}
