/** The stage with what belongs to it around it, and what stands there instead while there is nothing to show. */
import { Component, lazy, type ReactNode, Suspense, useMemo } from "react";
import type { Analysis } from "../diagnosis/model.ts";
import { sameCondition } from "../diagnosis/states.ts";
import { AT_TRIM } from "../geometry/condition.ts";
import { canopySurface } from "../geometry/surface.ts";
import { lengthUnitName, say } from "../words/index.ts";
import { CompareChoice } from "./CompareControls.tsx";
import { neutralText } from "./model/scaleText.ts";
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
import { coloursOf } from "./stage/picture.ts";
import type { StagePicture } from "./stage/props.ts";
import { pickLine, useApp, useColouredAnalysis, useLive, usePickedLines } from "./state/app.ts";
import { READING } from "./state/choices.ts";
import type { Live } from "./state/live.ts";
import { differenceWords, pictureOf, scaleOf, showsDifference } from "./state/pair.ts";
import { useScaleOf } from "./state/scale.ts";

const Stage = lazy(async () => ({ default: (await import("./stage/Stage.tsx")).Stage }));

export function StageFrame({ wide }: { readonly wide: boolean }) {
  const work = useApp((state) => state.work);
  const again = useApp((state) => state.again);
  const openWing = useApp((state) => state.openWing);
  const solving = useApp((state) => state.solving);
  const analysis = useColouredAnalysis();
  const colouredBy = useApp(({ choices }) => choices.colouredBy);
  const live = useLive();
  const picture = usePicture();
  const two = picture?.second === undefined ? undefined : picture.how;
  return (
    <section className={styles.frame} data-two={two} aria-label={say("frame.stage")}>
      <div className={styles.above}>
        <ShownChoice />
        {wide && analysis !== undefined ? (
          <>
            <RowChoice analysis={analysis} />
            <SideChoice />
            <CompareChoice />
          </>
        ) : null}
      </div>
      <div
        className={styles.ground}
        data-work={work.state}
        data-coloured-by={colouredBy}
        data-two={two}
        data-states={solving ? "solving" : "settled"}
        data-solve-ms={live?.tookMs?.toFixed(1)}
      >
        {work.state === "ready" && analysis !== undefined && live !== undefined && picture !== undefined ? (
          <StageInside base={work.analysis} analysis={analysis} live={live} picture={picture} />
        ) : null}
        {work.state === "working" ? (
          <div className={styles.message} role="status">
            <span className={styles.running} aria-hidden="true" />
            <p>
              {say("frame.working", { step: work.text === "" ? say("frame.working.opening") : work.text })}
            </p>
          </div>
        ) : null}
        {work.state === "failed" ? (
          <div className={styles.message} role="alert">
            <h2>{say("frame.stopped")}</h2>
            <p>{work.message}</p>
            <p>{say("frame.stopped.kept")}</p>
            <p className={styles.ways}>
              <button type="button" onClick={again}>
                {say("frame.stopped.again")}
              </button>
              <button type="button" onClick={() => openWing("school")}>
                {say("frame.stopped.back")}
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
        <Legend analysis={analysis} picture={picture} wide={wide} />
      </div>
    </section>
  );
}

/** The states to draw; the divider's place isn't part of them. */
function usePicture(): StagePicture | undefined {
  const live = useLive();
  const shown = useApp(({ choices }) => choices.shown);
  const against = useApp(({ choices }) => choices.against);
  const compare = useApp(({ choices }) => choices.compare);
  const colourOf = useApp(({ choices }) => choices.colourOf);
  const colouredBy = useApp(({ choices }) => choices.colouredBy);
  return useMemo(
    () =>
      live === undefined ? undefined : pictureOf(live, { shown, against, compare, colourOf, colouredBy }),
    [live, shown, against, compare, colourOf, colouredBy],
  );
}

function Legend(props: {
  readonly analysis: Analysis | undefined;
  readonly picture: StagePicture | undefined;
  readonly wide: boolean;
}) {
  const { analysis, picture, wide } = props;
  const [ref, size] = useSize<HTMLDivElement>();
  const colouredBy = useApp(({ choices }) => choices.colouredBy);
  const { of, scale: own } = useScaleOf(colouredBy);
  const difference = picture !== undefined && showsDifference(picture) ? picture : undefined;
  const compared = difference === undefined ? "no" : "yes";
  const scale = useMemo(() => (difference === undefined ? own : scaleOf(difference, own)), [difference, own]);
  const neutral =
    analysis === undefined
      ? undefined
      : difference === undefined
        ? neutralText(scale, of)
        : differenceWords(difference, scale);
  const hovered = useApp((state) => state.hovered);
  const picked = useApp(({ choices }) => choices.picked);
  const key = hovered ?? (picked.kind === "line" ? picked.key : undefined);
  const pointM = useMemo(() => {
    if (key === undefined || picture === undefined) return undefined;
    const [first, second] = coloursOf(picture);
    return (picture.second === undefined ? first : second)?.get(key);
  }, [picture, key]);
  return (
    <div className={styles.legend}>
      <p className={styles.legendWords}>
        <span>{say("frame.legend.short", { compared })}</span>
        {wide ? (
          <span className={styles.legendChoices}>
            <ColourChoice brief />
            <RangeChoice />
          </span>
        ) : (
          <span>
            {say("frame.legend.what", {
              unit: lengthUnitName(),
              of: difference === undefined ? colouredBy : "difference",
            })}
          </span>
        )}
        <span>{say("frame.legend.long", { compared })}</span>
      </p>
      <div ref={ref}>
        {size.width > 60 ? (
          <LegendTape
            scale={scale}
            toleranceM={difference === undefined ? (analysis?.wing.tolerances.pathM ?? 1) : Infinity}
            width={size.width}
            pointM={pointM}
            difference={difference !== undefined}
          />
        ) : null}
      </div>
      {neutral === undefined ? null : (
        <p
          className={styles.neutral}
          data-difference={difference === undefined ? undefined : "true"}
          data-neutral-mm={(scale.neutralM * 1000).toFixed(2)}
        >
          {neutral}
        </p>
      )}
    </div>
  );
}

/** @param base the analysis as it came; its model stays the same while states change */
function StageInside(props: {
  readonly base: Analysis;
  readonly analysis: Analysis;
  readonly live: Live;
  readonly picture: StagePicture;
}) {
  const { base, analysis, live, picture } = props;
  const surface = useMemo(() => canopySurface(base.model), [base]);
  const choices = useApp((state) => state.choices);
  const request = useApp((state) => state.directionRequest);
  const hovered = useApp((state) => state.hovered);
  const hover = useApp((state) => state.hover);
  const choose = useApp((state) => state.choose);
  const { scale: own } = useScaleOf(choices.colouredBy);
  const scale = useMemo(() => scaleOf(picture, own), [picture, own]);
  const selected = usePickedLines();
  const { picked, pane } = choices;
  const { wing } = base;
  const frame = useMemo(() => {
    if (picked.kind === "finding" && selected.size > 0) return { keys: selected, request: picked.id };
    if (picked.kind !== "line" || pane !== "replace") return undefined;
    // A damaged line with its path.
    const keys = wing.paths.flatMap(({ lineKeys }) => (lineKeys.includes(picked.key) ? lineKeys : []));
    return keys.length > 0 ? { keys: new Set(keys), request: `line ${picked.key}` } : undefined;
  }, [picked, pane, selected, wing]);
  const direction = useMemo(() => ({ name: choices.direction, request }), [choices.direction, request]);
  return (
    <Guard>
      <Suspense
        fallback={
          <div className={styles.message} role="status">
            <span className={styles.running} aria-hidden="true" />
            <p>{say("frame.working.stage")}</p>
          </div>
        }
      >
        <Stage
          analysis={analysis}
          model={base.model}
          surface={surface}
          rigged={!sameCondition(live.states.condition, AT_TRIM)}
          picture={picture}
          wipeAt={choices.wipeAt}
          onWipe={(wipeAt) => choose({ wipeAt })}
          exaggeration={choices.exaggeration}
          rows={choices.rows}
          sides={choices.sides}
          selected={selected}
          withoutTwins={picked.kind === "lines" && picked.by === READING}
          hovered={hovered}
          onHover={hover}
          onSelect={pickLine}
          direction={direction}
          frame={frame}
          scale={scale}
          colouredBy={choices.colouredBy}
        />
      </Suspense>
    </Guard>
  );
}

function Undrawn() {
  return (
    <div className={styles.message} role="alert" data-undrawn>
      <h2>{say("frame.undrawn")}</h2>
      <p>{say("frame.undrawn.text")}</p>
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
