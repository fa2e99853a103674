/** Left less right, pair by pair along the half-span. */
import { useState } from "react";
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
      {read?.text ??
        "Left less right at each pair of tabs, mm. Above zero the left one is the longer. Point at a mark to read it."}
    </p>
  );
  return (
    <section
      className={judging.section}
      aria-label="Left against right"
      data-judging="pairs"
      data-strip={strip || undefined}
    >
      <header className={judging.head}>
        <h2>Left against right</h2>
        {strip ? readout : null}
      </header>
      {strip ? null : readout}
      <HalfSpanPanels {...props} overlaid={false} trend={false} fill={strip} onRead={setRead} />
      <div className={judging.foot}>
        <ul className={judging.legend}>
          <Key kind="pair" text="left less right, bar ± U (k = 2)" />
          <Key kind="band" text={`limit set ±${Number((props.toleranceM * 1000).toFixed(1))} mm`} />
          <Key kind="gap" text="no pair: a side wasn’t read" />
        </ul>
        <JudgingCaution />
      </div>
    </section>
  );
}
