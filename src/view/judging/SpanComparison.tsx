/** Each row's deviations over the distance from the middle, the right side laid over the left. */
import { useState } from "react";
import type { HalfPanel, HalfPoint } from "../model/judging-halfspan.ts";
import { OneOf } from "../parts/Choice.tsx";
import { HalfSpanPanels, type Linked } from "./HalfSpanPanels.tsx";
import judging from "./Judging.module.css";
import { Key } from "./PlotKey.tsx";
import { JudgingCaution } from "./Verdict.tsx";

export type SpanLayout = "apart" | "overlaid";

export interface SpanComparisonProps extends Linked {
  /** From `spanPanels`. */
  readonly panels: readonly HalfPanel[];
  /** Limit of a path [m]. */
  readonly toleranceM: number;
  readonly layout: SpanLayout;
  readonly onLayout: (layout: SpanLayout) => void;
  readonly trend: boolean;
  readonly onTrend: (trend: boolean) => void;
  /** Fills a strip of fixed height instead of standing in a pane. */
  readonly strip?: boolean;
}

export function SpanComparison(props: SpanComparisonProps) {
  const { layout, trend } = props;
  const { strip = false } = props;
  const [read, setRead] = useState<HalfPoint>();
  const readout = (
    <p className={judging.readout} data-readout>
      {read?.text ??
        (strip
          ? "Measured less specified, mm; below zero is short."
          : "Measured less specified, mm, from the middle to the tip, both sides over each other. Below zero is short. Point at a mark to read it.")}
    </p>
  );
  return (
    <section
      className={judging.section}
      aria-label="Rows along the span"
      data-judging="span"
      data-strip={strip || undefined}
    >
      <header className={judging.head}>
        <h2>Rows along the span</h2>
        {strip ? readout : null}
        <div className={`${judging.actions} ${judging.screenOnly}`}>
          <OneOf
            legend="Rows drawn"
            options={[
              { value: "apart", label: "Row by row" },
              { value: "overlaid", label: "All in one" },
            ]}
            value={layout}
            onChange={props.onLayout}
          />
          <button
            type="button"
            className={judging.plain}
            aria-pressed={trend}
            onClick={() => props.onTrend(!trend)}
          >
            Trend lines
          </button>
        </div>
      </header>
      {strip ? null : readout}
      <HalfSpanPanels {...props} overlaid={layout === "overlaid"} fill={strip} onRead={setRead} />
      <div className={judging.foot}>
        <ul className={judging.legend}>
          <Key kind="left" text="left" />
          <Key kind="right" text="right" />
          <Key kind="bar" text="± U (k = 2)" />
          <Key kind="band" text={`limit set ±${Number((props.toleranceM * 1000).toFixed(1))} mm`} />
          <Key kind="gap" text="not read" />
          {trend ? <Key kind="trend" text="trend that outliers hardly move" /> : null}
        </ul>
        <JudgingCaution />
      </div>
    </section>
  );
}
