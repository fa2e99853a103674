/** Each row's deviations over the distance from the middle, the right side laid over the left. */
import { useState } from "react";
import { trimmedMm } from "../../diagnosis/wording.ts";
import { lengthUnitName, say } from "../../words/index.ts";
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
      {read?.text ?? say(strip ? "judging.span.brief" : "judging.span.lead", { unit: lengthUnitName() })}
    </p>
  );
  return (
    <section
      className={judging.section}
      aria-label={say("judging.span")}
      data-judging="span"
      data-strip={strip || undefined}
    >
      <header className={judging.head}>
        <h2>{say("judging.span")}</h2>
        {strip ? readout : null}
        <div className={`${judging.actions} ${judging.screenOnly}`}>
          <OneOf
            legend={say("judging.span.rows")}
            options={[
              { value: "apart", label: say("judging.span.apart") },
              { value: "overlaid", label: say("judging.span.overlaid") },
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
            {say("judging.span.trend")}
          </button>
        </div>
      </header>
      {strip ? null : readout}
      <HalfSpanPanels {...props} overlaid={layout === "overlaid"} fill={strip} onRead={setRead} />
      <div className={judging.foot}>
        <ul className={judging.legend}>
          <Key kind="left" text={say("judging.key.left")} />
          <Key kind="right" text={say("judging.key.right")} />
          <Key kind="bar" text={say("judging.key.bar")} />
          <Key kind="band" text={say("judging.key.limit", { limit: trimmedMm(props.toleranceM) })} />
          <Key kind="gap" text={say("judging.not-read")} />
          {trend ? <Key kind="trend" text={say("judging.key.trend")} /> : null}
        </ul>
        <JudgingCaution />
      </div>
    </section>
  );
}
