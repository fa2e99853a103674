/** The two figures of the brakes' free travel that the screen shows: on the brake lines alone, and in the model. */
import { useMemo } from "react";
import { type BrakeTravel, travelOnLines } from "../../diagnosis/brake-travel.ts";
import { riggingDifferences } from "../model/riggingText.ts";
import { useApp, useBaseAnalysis, useLive } from "./app.ts";

/** As findings and limits count it; undefined where no brake path was read. */
export function useLineTravel(): BrakeTravel | undefined {
  const assessment = useBaseAnalysis()?.assessment;
  return useMemo(() => (assessment === undefined ? undefined : travelOnLines(assessment)), [assessment]);
}

/** The model's, as measured at trim; undefined without it and while the wing is rigged otherwise, which would be another comparison. */
export function useModelTravel(): BrakeTravel | undefined {
  const measured = useLive()?.states.travel.measured;
  const wing = useApp((state) => state.document?.wing);
  const rigging = useApp(({ choices }) => choices.rigging);
  return wing === undefined || riggingDifferences(wing, rigging).length > 0 ? undefined : measured;
}
