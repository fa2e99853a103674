/** How much of a path's change is put down to one line, how that is known, and which lines it can't be told apart from. */
import { useMemo } from "react";
import type { LineAttribution } from "../../diagnosis/attribution.ts";
import { deviationColour } from "../../diagnosis/colour.ts";
import type { DeviationScale } from "../../diagnosis/scale.ts";
import type { Wing } from "../../plan/model.ts";
import { lengthNumber, lengthUnitName, say, sayParts } from "../../words/index.ts";
import { signedMm } from "../model/format.ts";
import { lineDoubtEntry } from "../model/judging-next.ts";
import { axisStepM } from "../model/spanSeries.ts";
import styles from "./LineDoubt.module.css";
import { JudgingCaution } from "./Verdict.tsx";

export interface LineDoubtProps {
  readonly wing: Wing;
  readonly line: LineAttribution;
  /** Of what is put down to single lines. */
  readonly scale: DeviationScale;
  readonly onPick: (lineKey: string) => void;
  /** A card that carries the caution itself leaves it out here. */
  readonly caution?: boolean;
}

export function LineDoubt({ wing, line, scale, onPick, caution = true }: LineDoubtProps) {
  const entry = useMemo(() => lineDoubtEntry(wing, line), [wing, line]);
  const reach = Math.abs(entry.changeM) + 2 * entry.deviationM;
  const step = axisStepM();
  const extentM = Math.max(step, Math.ceil(reach / step + 1e-9) * step);
  const at = (valueM: number): number => 50 + Math.max(-1, Math.min(1, valueM / extentM)) * 48;
  return (
    <div className={styles.doubt} data-judging="line">
      <p className={styles.head}>
        <span>{say("judging.line")}</span>
        <strong>
          {entry.change} {lengthUnitName()}
        </strong>
      </p>
      <svg className={styles.tape} width="100%" height={26} aria-hidden="true">
        <line x1="2%" x2="98%" y1={13} y2={13} stroke="var(--hair-strong)" />
        <line x1="50%" x2="50%" y1={0} y2={26} stroke="var(--ink)" strokeWidth={1.5} />
        <line
          x1={`${at(entry.changeM - 2 * entry.deviationM)}%`}
          x2={`${at(entry.changeM + 2 * entry.deviationM)}%`}
          y1={13}
          y2={13}
          stroke="var(--ink)"
          strokeWidth={2}
        />
        <svg x={`${at(entry.changeM)}%`} y={13} overflow="visible" aria-hidden="true">
          <rect
            x={-4.5}
            y={-8}
            width={9}
            height={16}
            fill={deviationColour(entry.changeM, scale).hex}
            stroke="var(--panel)"
            strokeWidth={1.5}
          />
        </svg>
      </svg>
      <p className={styles.ends}>
        <span>{signedMm(-extentM)}</span>
        <span>{signedMm(extentM)}</span>
      </p>
      <p className={styles.key}>
        {sayParts("judging.line.key", {
          before: (
            <span key="before" className={styles.figures}>
              ±{lengthNumber(entry.priorDeviationM, 1)}
            </span>
          ),
        })}
      </p>
      <p className={styles.known}>{entry.known}</p>
      {entry.partners.length === 0 ? null : (
        <div className={styles.partners}>
          <span>{say("judging.line.partners")}</span>
          <ul>
            {entry.partners.map(({ lineKey, name }) => (
              <li key={lineKey}>
                <button type="button" data-line={lineKey} onClick={() => onPick(lineKey)}>
                  {name}
                </button>
              </li>
            ))}
          </ul>
        </div>
      )}
      {caution ? <JudgingCaution /> : null}
    </div>
  );
}
