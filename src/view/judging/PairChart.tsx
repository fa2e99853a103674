/** Left less right, pair by pair along the half-span. */
import { useState } from "react";
import { trimmedMm } from "../../diagnosis/wording.ts";
import { lengthUnitName, say } from "../../words/index.ts";
import type { HalfPanel, HalfPoint } from "../model/judging-halfspan.ts";
import { HalfSpanPanels, type Linked } from "./HalfSpanPanels.tsx";
import judging from "./Judging.module.css";
import { Key } from "./PlotKey.tsx";
import { JudgingCaution } from "./Verdict.tsx";

export interface PairChartProps extends Linked {
  /** From `pairPanels`. */
  readonly panels: readonly HalfPanel[];
  /** Limit of left against right [m]. */
  readonly toleranceM: number;
  /** Fills a strip of fixed height instead of standing in a pane. */
  readonly strip?: boolean;
}

export function PairChart(props: PairChartProps) {
  const { strip = false } = props;
  const [read, setRead] = useState<HalfPoint>();
  const readout = (
    <p className={judging.readout} data-readout>
      {read?.text ?? say("judging.pairs.lead", { unit: lengthUnitName() })}
    </p>
  );
  return (
    <section
      className={judging.section}
      aria-label={say("judging.pairs")}
      data-judging="pairs"
      data-strip={strip || undefined}
    >
      <header className={judging.head}>
        <h2>{say("judging.pairs")}</h2>
        {strip ? readout : null}
      </header>
      {strip ? null : readout}
      <HalfSpanPanels {...props} overlaid={false} trend={false} fill={strip} onRead={setRead} />
      <div className={judging.foot}>
        <ul className={judging.legend}>
          <Key kind="pair" text={say("judging.key.pair")} />
          <Key kind="band" text={say("judging.key.limit", { limit: trimmedMm(props.toleranceM) })} />
          <Key kind="gap" text={say("judging.key.no-pair")} />
        </ul>
        <JudgingCaution />
      </div>
    </section>
  );
}
