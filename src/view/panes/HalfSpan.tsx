/** Both sides against each other along the half-span, linked to what is pointed at and picked elsewhere. */
import { useMemo, useState } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { say } from "../../words/index.ts";
import type { Linked } from "../judging/HalfSpanPanels.tsx";
import { PairChart } from "../judging/PairChart.tsx";
import { SpanComparison, type SpanLayout } from "../judging/SpanComparison.tsx";
import { tabsUnder } from "../model/cascade.ts";
import { pairPanels, spanPanels } from "../model/judging-halfspan.ts";
import { pickLine, useApp, useBaseAnalysis, usePickedLines } from "../state/app.ts";
import styles from "./Limits.module.css";
import panes from "./Panes.module.css";

const NO_TABS: ReadonlySet<string> = new Set();

function useLinked(): Linked {
  const cascade = useApp((state) => state.document?.cascade);
  const hovered = useApp((state) => state.hovered);
  const hover = useApp((state) => state.hover);
  const picked = usePickedLines();
  const lit = useMemo(
    () => (cascade === undefined || hovered === undefined ? NO_TABS : tabsUnder(cascade, [hovered])),
    [cascade, hovered],
  );
  const paths = useApp((state) => state.document?.wing.paths);
  const byPath = useApp(({ choices }) => choices.picked.kind === "lines");
  const chosen = useMemo(() => {
    if (cascade === undefined || paths === undefined) return NO_TABS;
    // What is judged are whole paths: one line that they share doesn't mean all that hangs above it.
    return byPath
      ? new Set(
          paths.flatMap(({ tabKey, lineKeys }) => (lineKeys.every((key) => picked.has(key)) ? [tabKey] : [])),
        )
      : tabsUnder(cascade, picked);
  }, [cascade, paths, byPath, picked]);
  return {
    lit,
    chosen,
    onPoint: (tabKey) => hover(tabKey === undefined ? undefined : cascade?.tabs.get(tabKey)?.lineKey),
    onPick: pickLine,
  };
}

export interface HalfSpanProps {
  /** Fills the strip below the stage instead of standing in a pane. */
  readonly strip: boolean;
}

export function Pairs({ strip }: HalfSpanProps) {
  const analysis = useBaseAnalysis();
  const linked = useLinked();
  const panels = useMemo(() => panelsOf(analysis, pairPanels), [analysis]);
  if (analysis === undefined || panels === undefined) return <Unread />;
  return (
    <div className={strip ? styles.stripFill : undefined}>
      <PairChart panels={panels} toleranceM={analysis.wing.tolerances.leftRightM} strip={strip} {...linked} />
    </div>
  );
}

export function Sides({ strip }: HalfSpanProps) {
  const analysis = useBaseAnalysis();
  const linked = useLinked();
  const [layout, setLayout] = useState<SpanLayout>("apart");
  const [trend, setTrend] = useState(false);
  const panels = useMemo(() => panelsOf(analysis, spanPanels), [analysis]);
  if (analysis === undefined || panels === undefined) return <Unread />;
  return (
    <div className={strip ? styles.stripFill : undefined}>
      <SpanComparison
        panels={panels}
        toleranceM={analysis.wing.tolerances.pathM}
        layout={layout}
        onLayout={setLayout}
        trend={trend}
        onTrend={setTrend}
        strip={strip}
        {...linked}
      />
    </div>
  );
}

function panelsOf(
  analysis: Analysis | undefined,
  make: typeof pairPanels,
): ReturnType<typeof pairPanels> | undefined {
  return analysis?.assessment === undefined ? undefined : make(analysis, analysis.assessment);
}

function Unread() {
  return <p className={panes.note}>{say("panes.half.none")}</p>;
}
