/** The words on the stage: what is drawn, how much it is exaggerated, and the name of the line under the pointer. */
import type { Analysis } from "../../diagnosis/model.ts";
import { deviationText, sidedName } from "../model/format.ts";
import type { ShownState, StageProps } from "./props.ts";

export interface Caption {
  readonly state: string;
  /** Always given when a shape change is drawn; undefined when the specified shape is. */
  readonly scale: string | undefined;
}

/**
 * @param measured whether there is a measured state to draw.
 * @param rigged whether the wing is rigged or loaded otherwise than at its reference setting.
 */
export function stageCaption(
  shown: ShownState,
  exaggeration: number,
  measured: boolean,
  rigged = false,
): Caption {
  const rigging = rigged ? "rigging drawn true" : undefined;
  if (shown === "specified") return { state: "As specified", scale: rigging };
  if (!measured && shown !== "tried") return { state: "As specified: nothing measured yet", scale: rigging };
  const state = {
    measured: "As measured",
    both: "As measured, over as specified",
    tried: `As tried, over as ${measured ? "measured" : "specified"}`,
  }[shown];
  const factor = Number(exaggeration.toFixed(1)).toString();
  const shape = factor === "1" ? "shape change drawn true, ×1" : `shape change drawn ×${factor}`;
  return { state, scale: rigging === undefined ? shape : `${shape}, ${rigging}` };
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
