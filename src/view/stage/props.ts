/** What the stage is told and what it tells back. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { Equilibrium, WingModel } from "../../geometry/model.ts";
import type { CanopySurface } from "../../geometry/surface.ts";
import type { Row, Side } from "../../plan/model.ts";

/** `both`: as measured, over as specified. `tried`: as tried, over as measured (without readings: over as specified). */
export type ShownState = "specified" | "measured" | "both" | "tried";
export type ViewDirection = "front" | "side" | "above" | "pilot" | "overview";

export interface StageProps {
  /** What lines are coloured by and named from. */
  readonly analysis: Analysis;
  /** The wing at the reference setting: what the surface was made for. Stays the same while states change. */
  readonly model: WingModel;
  readonly surface: CanopySurface;
  readonly states: StageStates;
  readonly shown: ShownState;
  /** Whether the states are rigged or loaded otherwise than at the reference setting; said in the caption. */
  readonly rigged: boolean;
  /** 1 to 40; multiplies the displacement from as specified, under the same rigging. What the rigging does is drawn true. */
  readonly exaggeration: number;
  /** Rows and sides whose lines are drawn; the canopy always is. */
  readonly rows: ReadonlySet<Row>;
  readonly sides: ReadonlySet<Side>;
  /** Keys of the selected lines; their mirror twins are lit too. */
  readonly selected: ReadonlySet<string>;
  readonly hovered: string | undefined;
  readonly onHover: (lineKey: string | undefined) => void;
  /** A click or tap: on a line its key, on empty space undefined. */
  readonly onSelect: (lineKey: string | undefined) => void;
  /** A higher `request` frames the direction again. */
  readonly direction: { readonly name: ViewDirection; readonly request: number };
  /** Lines to come near to; another `request` frames them, undefined goes back to the view before once nothing is selected. */
  readonly frame: { readonly keys: ReadonlySet<string>; readonly request: string } | undefined;
  /** Half range of the colour scale [m]. */
  readonly rangeM: number;
  /** Whether the analysis gives the mean of whole paths or each line's own change; for the words. "path" if left out. */
  readonly colouredBy?: "path" | "line";
}

/** The wing's states under one rigging. */
export interface StageStates {
  readonly specified: Equilibrium;
  readonly measured: Equilibrium | undefined;
  readonly tried: Equilibrium | undefined;
}
