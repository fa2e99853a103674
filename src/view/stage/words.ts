/** The words on the stage: what is drawn, how much it is exaggerated, and the name of the line under the pointer. */
import type { Analysis } from "../../diagnosis/model.ts";
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
  const rigging = rigged ? "rigging drawn true" : undefined;
  if (second === undefined && first.deviationM === undefined) return { state: first.name, scale: rigging };
  const factor = Number(exaggeration.toFixed(1)).toString();
  const shape = factor === "1" ? "shape change drawn true, ×1" : `shape change drawn ×${factor}`;
  const scale = rigging === undefined ? shape : `${shape}, ${rigging}`;
  if (second === undefined) return { state: first.name, scale };
  const state = {
    over: `${second.name}, over ${within(first)}`,
    beside: `${first.name}, and beside it ${within(second)}`,
    wipe: `${first.name} left of the divider, ${within(second)} right of it`,
  }[how];
  return { state, scale };
}

/** A state's name inside a sentence: "as measured". */
export function within(state: StateView): string {
  return state.name.charAt(0).toLowerCase() + state.name.slice(1);
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
  if (by === "line") return `${name} · ${deviationText(deviation?.deviationM)}, put down to it alone`;
  const basis = deviation?.basis === "paths above" ? ", mean of the paths above" : "";
  return `${name} · ${deviationText(deviation?.deviationM)}${basis}`;
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
  const differs = `${deviationText(differenceM(first, second)?.get(key))}, ${within(second)} less ${within(first)}`;
  if (how === "beside")
    return [`${name} · ${value(first)}`, `${name} · ${colourOf === "own" ? value(second) : differs}`];
  if (colourOf === "difference") return [`${name} · ${differs}`, `${name} · ${differs}`];
  const each = [first, second].map((state) =>
    state.deviationM === undefined ? "" : `${value(state)} ${within(state)}`,
  );
  const both = `${name} · ${each.filter((text) => text !== "").join(", ")}`;
  return [both, both];
}
