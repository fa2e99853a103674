/** The stage with what belongs to it around it, and what stands there instead while there is nothing to show. */
import { Component, lazy, type ReactNode, Suspense, useMemo } from "react";
import type { Analysis } from "../diagnosis/model.ts";
import { sameCondition } from "../diagnosis/states.ts";
import { AT_TRIM } from "../geometry/condition.ts";
import { canopySurface } from "../geometry/surface.ts";
import { useSize } from "./parts/hooks.ts";
import { LegendTape } from "./parts/LegendTape.tsx";
import {
  ColourChoice,
  DirectionChoice,
  RangeChoice,
  RowChoice,
  ShapeChoice,
  ShownChoice,
  SideChoice,
} from "./StageControls.tsx";
import styles from "./StageFrame.module.css";
import { pickLine, useApp, useColouredAnalysis, useLive, usePickedLines, useRangeM } from "./state/app.ts";
import { type Live, stateShown } from "./state/live.ts";

const Stage = lazy(async () => ({ default: (await import("./stage/Stage.tsx")).Stage }));

export function StageFrame({ wide }: { readonly wide: boolean }) {
  const work = useApp((state) => state.work);
  const again = useApp((state) => state.again);
  const openWing = useApp((state) => state.openWing);
  const solving = useApp((state) => state.solving);
  const analysis = useColouredAnalysis();
  const colouredBy = useApp(({ choices }) => choices.colouredBy);
  const live = useLive();
  return (
    <section className={styles.frame} aria-label="The wing">
      <div className={styles.above}>
        <ShownChoice />
        {wide && analysis !== undefined ? (
          <>
            <RowChoice analysis={analysis} />
            <SideChoice />
          </>
        ) : null}
      </div>
      <div
        className={styles.ground}
        data-work={work.state}
        data-coloured-by={colouredBy}
        data-states={solving ? "solving" : "settled"}
        data-solve-ms={live?.tookMs?.toFixed(1)}
      >
        {work.state === "ready" && analysis !== undefined && live !== undefined ? (
          <StageInside base={work.analysis} analysis={analysis} live={live} />
        ) : null}
        {work.state === "working" ? (
          <div className={styles.message} role="status">
            <span className={styles.running} aria-hidden="true" />
            <p>{work.text} …</p>
          </div>
        ) : null}
        {work.state === "failed" ? (
          <div className={styles.message} role="alert">
            <h2>The calculation stopped</h2>
            <p>{work.message}</p>
            <p>The files are kept. Try again, or go back to an invented wing.</p>
            <p className={styles.ways}>
              <button type="button" onClick={again}>
                Try again
              </button>
              <button type="button" onClick={() => openWing("school")}>
                Back to the invented wing
              </button>
            </p>
          </div>
        ) : null}
        {wide && work.state === "ready" ? (
          <div className={styles.from}>
            <DirectionChoice />
          </div>
        ) : null}
      </div>
      <div className={styles.below}>
        {wide ? (
          <div className={styles.shape}>
            <ShapeChoice />
          </div>
        ) : null}
        <Legend analysis={analysis} wide={wide} />
      </div>
    </section>
  );
}

function Legend({ analysis, wide }: { readonly analysis: Analysis | undefined; readonly wide: boolean }) {
  const [ref, size] = useSize<HTMLDivElement>();
  const rangeM = useRangeM();
  const colouredBy = useApp(({ choices }) => choices.colouredBy);
  const hovered = useApp((state) => state.hovered);
  const picked = useApp(({ choices }) => choices.picked);
  const key = hovered ?? (picked.kind === "line" ? picked.key : undefined);
  const pointM = useMemo(
    () => (key === undefined ? undefined : analysis?.lines.find((line) => line.lineKey === key)?.deviationM),
    [analysis, key],
  );
  return (
    <div className={styles.legend}>
      <p className={styles.legendWords}>
        <span>short</span>
        {wide ? (
          <span className={styles.legendChoices}>
            <ColourChoice brief />
            <RangeChoice />
          </span>
        ) : (
          <span>{colouredBy === "line" ? "mm put down to each line" : "mm against the plan"}</span>
        )}
        <span>long</span>
      </p>
      <div ref={ref}>
        {size.width > 60 ? (
          <LegendTape
            rangeM={rangeM}
            toleranceM={analysis?.wing.tolerances.pathM ?? 1}
            width={size.width}
            pointM={pointM}
          />
        ) : null}
      </div>
    </div>
  );
}

/** @param base the analysis as it came; its model stays the same while states change */
function StageInside(props: { readonly base: Analysis; readonly analysis: Analysis; readonly live: Live }) {
  const { base, analysis, live } = props;
  const surface = useMemo(() => canopySurface(base.model), [base]);
  const choices = useApp((state) => state.choices);
  const request = useApp((state) => state.directionRequest);
  const hovered = useApp((state) => state.hovered);
  const hover = useApp((state) => state.hover);
  const rangeM = useRangeM();
  const selected = usePickedLines();
  const { picked } = choices;
  const frame = useMemo(
    () =>
      picked.kind === "finding" && selected.size > 0 ? { keys: selected, request: picked.id } : undefined,
    [picked, selected],
  );
  const direction = useMemo(() => ({ name: choices.direction, request }), [choices.direction, request]);
  return (
    <Guard>
      <Suspense
        fallback={
          <div className={styles.message} role="status">
            <span className={styles.running} aria-hidden="true" />
            <p>Setting the stage …</p>
          </div>
        }
      >
        <Stage
          analysis={analysis}
          model={base.model}
          surface={surface}
          states={live.states}
          rigged={!sameCondition(live.states.condition, AT_TRIM)}
          shown={stateShown(live, choices.shown)}
          exaggeration={choices.exaggeration}
          rows={choices.rows}
          sides={choices.sides}
          selected={selected}
          hovered={hovered}
          onHover={hover}
          onSelect={pickLine}
          direction={direction}
          frame={frame}
          rangeM={rangeM}
          colouredBy={choices.colouredBy}
        />
      </Suspense>
    </Guard>
  );
}

function Undrawn() {
  return (
    <div className={styles.message} role="alert" data-undrawn>
      <h2>The 3D could not be drawn</h2>
      <p>Findings, charts, rows and lines work without it. Reloading the page may bring it back.</p>
    </div>
  );
}

/** If drawing breaks down, the words and figures stay. */
class Guard extends Component<{ readonly children: ReactNode }, { readonly broken: boolean }> {
  override state = { broken: false };

  static getDerivedStateFromError(): { readonly broken: boolean } {
    return { broken: true };
  }

  override render(): ReactNode {
    return this.state.broken ? <Undrawn /> : this.props.children;
  }
}
