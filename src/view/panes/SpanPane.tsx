/** The charts along the span, as a strip below the stage or as a pane of their own. */
import type { Analysis } from "../../diagnosis/model.ts";
import { say } from "../../words/index.ts";
import { IncidenceMeans, IncidenceTable } from "../charts/IncidenceTable.tsx";
import { SpanCharts } from "../charts/SpanCharts.tsx";
import { aroundLikely } from "../model/bandTable.ts";
import { useSize } from "../parts/hooks.ts";
import { CautionLine } from "./Caution.tsx";
import { Pairs, Sides } from "./HalfSpan.tsx";
import styles from "./Panes.module.css";
import { RibPane } from "./RibPane.tsx";

export function SpanPane({ analysis, strip }: { readonly analysis: Analysis; readonly strip: boolean }) {
  const [ref, size] = useSize<HTMLDivElement>();
  if (analysis.measured === undefined) return <p className={styles.note}>{say("panes.span.none")}</p>;
  return (
    <div className={strip ? styles.strip : styles.pane}>
      <div ref={ref} className={styles.chartRoom}>
        <SpanCharts
          analysis={analysis}
          width={size.width}
          height={strip ? size.height : Math.max(400, size.height)}
        />
      </div>
      {strip ? (
        <IncidenceTable analysis={analysis} fold={false} />
      ) : (
        <>
          <div className={styles.meansRoom}>
            <IncidenceMeans analysis={analysis} title={say("panes.span.means")} />
            <p>{aroundLikely()}</p>
          </div>
          <IncidenceTable analysis={analysis} fold />
          <RibPane analysis={analysis} both={false} />
          <Pairs strip={false} />
          <Sides strip={false} />
          <CautionLine />
        </>
      )}
    </div>
  );
}
