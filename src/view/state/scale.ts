/** The colour scales of what is on the screen: one for whole paths, one for what is put down to single lines. */
import { useMemo } from "react";
import {
  type DeviationScale,
  deviationScaleOf,
  lineExpandedM,
  pathExpandedM,
} from "../../diagnosis/scale.ts";
import { useApp, useRangeM } from "./app.ts";
import type { ColouredBy } from "./choices.ts";

/** Of what something is coloured by, and the scale for it. */
export interface ScaleOf {
  readonly of: ColouredBy;
  readonly scale: DeviationScale;
}

/**
 * The scale of whole paths, with the readings' uncertainty, or of single lines, with the estimate's. As long as the estimate
 * isn't there, lines take the paths' scale, and say so.
 */
export function useScaleOf(by: ColouredBy): ScaleOf {
  const rangeM = useRangeM();
  const analysis = useApp(({ work }) => (work.state === "ready" ? work.analysis : undefined));
  const attribution = useApp((state) => (by === "line" ? state.judgement?.attribution : undefined));
  const ofPathsM = useMemo(() => pathExpandedM(analysis?.uncertainties), [analysis]);
  const ofLinesM = useMemo(() => lineExpandedM(analysis?.lines ?? [], attribution), [analysis, attribution]);
  return useMemo(
    () =>
      ofLinesM > 0
        ? { of: "line", scale: deviationScaleOf(rangeM, ofLinesM) }
        : { of: "path", scale: deviationScaleOf(rangeM, ofPathsM) },
    [rangeM, ofPathsM, ofLinesM],
  );
}
