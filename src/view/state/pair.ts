/** Which two states are on the stage, and what of them the stage is told. */
import type { Analysis } from "../../diagnosis/model.ts";
import { type DeviationScale, deviationScaleOf } from "../../diagnosis/scale.ts";
import { trimmedMm } from "../../diagnosis/wording.ts";
import type { Equilibrium } from "../../geometry/model.ts";
import { say } from "../../words/index.ts";
import { analysisColouredBy } from "../model/judging-colour.ts";
import type { StagePicture, StateView } from "../stage/props.ts";
import { within } from "../stage/words.ts";
import { type Against, type Choices, type Shown, STATE_IDS, type StateId } from "./choices.ts";
import { type Live, stateShown } from "./live.ts";

/** A state's solution and the analysis with its deviations, none as specified; undefined where there is no such state now. */
function solvedAs(
  live: Live,
  id: StateId,
): { readonly solved: Equilibrium; readonly analysis: Analysis | undefined } | undefined {
  const { specified, measured, tried } = live.states;
  const asFound = { measured, tried, after: live.after?.solved };
  const found = { measured: live.asMeasured, tried: live.asTried, after: live.after?.analysis };
  if (id === "specified") return { solved: specified, analysis: undefined };
  const [solved, analysis] = [asFound[id], found[id]];
  return solved === undefined || analysis === undefined ? undefined : { solved, analysis };
}

/** The states that there are now. */
export function statesThere(live: Live): readonly StateId[] {
  return STATE_IDS.filter((id) => solvedAs(live, id) !== undefined);
}

/** The state in front, and the one that it is held against. */
export interface Pair {
  readonly front: Exclude<Shown, "both">;
  readonly against: StateId | undefined;
}

/**
 * @param against a state that isn't there, or the one in front itself, gives way: to what is usual for what is shown, or to
 * none. "both" always has one.
 */
export function pairShown(live: Live, shown: Shown, against: Against | undefined): Pair {
  const state = stateShown(live, shown);
  const front = state === "both" ? "measured" : state;
  const usual =
    state === "both"
      ? "specified"
      : state === "tried"
        ? live.states.measured === undefined
          ? "specified"
          : "measured"
        : undefined;
  if (against === "nothing") return { front, against: state === "both" ? usual : undefined };
  if (against === undefined || solvedAs(live, against) === undefined) return { front, against: usual };
  return { front, against: against === front ? undefined : against };
}

/** What to choose so that the state in front is held against another, or none. */
export function heldAgainst(
  { front }: Pair,
  shown: Shown,
  against: Against,
): Pick<Choices, "shown" | "against"> {
  return shown === "both" && against !== "specified" ? { shown: front, against } : { shown, against };
}

/** The states to draw. */
export function pictureOf(
  live: Live,
  choices: Pick<Choices, "shown" | "against" | "compare" | "colourOf" | "colouredBy">,
): StagePicture {
  const { front, against } = pairShown(live, choices.shown, choices.against);
  const view = (id: StateId): StateView => {
    const { solved, analysis } = solvedAs(live, id) ?? { solved: live.states.specified, analysis: undefined };
    const unread = id === "specified" && choices.shown !== "specified" && live.states.measured === undefined;
    return {
      id,
      name: unread && id === front ? say("stage.state.unread") : say("stage.state", { state: id }),
      within: say("stage.state.within", { state: id }),
      solved,
      deviationM:
        analysis === undefined
          ? undefined
          : new Map(
              analysisColouredBy(analysis, choices.colouredBy).lines.map((line) => [
                line.lineKey,
                line.deviationM,
              ]),
            ),
    };
  };
  return {
    origin: live.states.specified,
    first: view(against ?? front),
    second: against === undefined ? undefined : view(front),
    how: choices.compare,
    colourOf: choices.colourOf,
  };
}

/** Whether the colours are those of a difference now. */
export function showsDifference(
  picture: StagePicture,
): picture is StagePicture & { readonly second: StateView } {
  return picture.second !== undefined && picture.colourOf === "difference";
}

/**
 * The scale of what the lines are coloured by. Of a difference the range stays, the neutral follows what is uncertain of it:
 * nothing between as measured and as tried, which rest on the same readings; one check's uncertainty against as specified;
 * both checks' together, taken as independent, where another check was taken after the work.
 */
export function scaleOf(picture: StagePicture, scale: DeviationScale): DeviationScale {
  if (!showsDifference(picture)) return scale;
  const checkOf = ({ id }: StateView): string | undefined =>
    id === "specified" ? undefined : id === "after" ? "after" : "before";
  const [one, other] = [checkOf(picture.first), checkOf(picture.second)];
  const checks = one === other ? 0 : [one, other].filter((check) => check !== undefined).length;
  return deviationScaleOf(scale.rangeM, Math.sqrt(checks) * scale.expandedM);
}

/** What the colours of a difference mean, in words. */
export function differenceWords(
  picture: StagePicture & { readonly second: StateView },
  scale: DeviationScale,
): string {
  const isGrey = Number((1000 * scale.neutralM).toFixed(1)) > 0;
  return say("stage.difference", {
    second: within(picture.second),
    first: within(picture.first),
    grey: isGrey ? trimmedMm(scale.neutralM) : "none",
  });
}
