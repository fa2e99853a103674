/** The words on the stage: what is drawn, how much it is exaggerated, and the name of the line under the pointer. */
import type { Analysis } from "../../diagnosis/model.ts";
import { trimmed } from "../../diagnosis/wording.ts";
import { say } from "../../words/index.ts";
import { deviationText, sidedName } from "../model/format.ts";
import { differenceM } from "./picture.ts";
import type { StagePicture, StageProps, StateView } from "./props.ts";

export interface Caption {
  readonly state: string;
  /** Always given when a shape change is drawn; undefined when only the specified shape is. */
  readonly scale: string | undefined;
}

/** @param rigged whether the wing is rigged or loaded otherwise than at its reference setting. */
export function stageCaption(
  picture: Pick<StagePicture, "first" | "second" | "how">,
  exaggeration: number,
  rigged = false,
): Caption {
  const { first, second, how } = picture;
  if (second === undefined && first.deviationM === undefined)
    return { state: first.name, scale: rigged ? say("stage.scale.rigging") : undefined };
  const times = trimmed(exaggeration, 1);
  const scale = say("stage.scale", {
    true: Number(exaggeration.toFixed(1)) === 1 ? "yes" : "no",
    times,
    rigged: rigged ? "yes" : "no",
  });
  return { state: second === undefined ? first.name : bothNamed(first, second, how), scale };
}

function bothNamed(first: StateView, second: StateView, how: StagePicture["how"]): string {
  switch (how) {
    case "over":
      return say("stage.over", { second: second.name, first: within(first) });
    case "beside":
      return say("stage.beside", { first: first.name, second: within(second) });
    case "wipe":
      return say("stage.wipe", { first: first.name, second: within(second) });
  }
}

/** A state's name inside a sentence: "as measured". */
export function within(state: StateView): string {
  return state.within ?? state.name.charAt(0).toLowerCase() + state.name.slice(1);
}

/** Name of a line with its deviation where one is known; undefined for a key the wing doesn't have. */
export function lineTag(
  analysis: Analysis,
  key: string,
  by: StageProps["colouredBy"] = "path",
): string | undefined {
  const line = analysis.wing.lines.find((l) => l.key === key);
  if (line === undefined) return undefined;
  const name = sidedName(line.id, line.side);
  if (analysis.check === undefined) return name;
  const deviation = analysis.lines.find((l) => l.lineKey === key);
  const said = deviationText(deviation?.deviationM);
  if (by === "line") return say("stage.tag.line", { name, deviation: said });
  const basis = deviation?.basis === "paths above" ? "above" : "own";
  return say("stage.tag.path", { name, deviation: said, basis });
}

/**
 * What is said of the line under the pointer in the picture of the first state and in that of the second; where both lie in
 * one picture, the same in both. Undefined for a key the wing doesn't have.
 */
export function lineTags(
  analysis: Analysis,
  key: string,
  picture: StagePicture,
  by: StageProps["colouredBy"] = "path",
): readonly [string, string] | undefined {
  const { first, second, how, colourOf } = picture;
  const plain = lineTag(analysis, key, by);
  if (plain === undefined) return undefined;
  if (second === undefined || (how === "over" && colourOf === "own")) return [plain, plain];
  const line = analysis.wing.lines.find((l) => l.key === key);
  const name = line === undefined ? key : sidedName(line.id, line.side);
  const value = (state: StateView): string =>
    state.deviationM === undefined ? within(state) : deviationText(state.deviationM.get(key));
  const tag = (said: string): string => say("stage.tag", { name, value: said });
  const differs = say("stage.less", {
    difference: deviationText(differenceM(first, second)?.get(key)),
    second: within(second),
    first: within(first),
  });
  if (how === "beside") return [tag(value(first)), tag(colourOf === "own" ? value(second) : differs)];
  if (colourOf === "difference") return [tag(differs), tag(differs)];
  const each = [first, second].flatMap((state) =>
    state.deviationM === undefined
      ? []
      : [say("stage.tag.state", { value: value(state), state: within(state) })],
  );
  const both = tag(each.join(", "));
  return [both, both];
}
