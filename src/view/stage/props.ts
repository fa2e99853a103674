/** What the stage is told and what it tells back. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { DeviationScale } from "../../diagnosis/scale.ts";
import type { Equilibrium, WingModel } from "../../geometry/model.ts";
import type { CanopySurface } from "../../geometry/surface.ts";
import type { Row, Side } from "../../plan/model.ts";

/** How two states are drawn: the second over the first, one beside the other, or parted by a line across one picture. */
export type How = "over" | "beside" | "wipe";

/** One state of the wing, as it is to be drawn. */
export interface StateView {
  /** Tells states apart: from one to another the picture glides. */
  readonly id: string;
  /** As labels say it: "As measured". */
  readonly name: string;
  /** The same inside a sentence: "as measured"; the name with a small letter if left out. */
  readonly within?: string;
  readonly solved: Equilibrium;
  /** Line key → deviation, undefined where not measured [m]; undefined for a state whose lines have none: drawn in ink. */
  readonly deviationM: ReadonlyMap<string, number | undefined> | undefined;
}

/** The states to draw. */
export interface StagePicture {
  /** As specified under the same rigging: what shape changes are counted from. */
  readonly origin: Equilibrium;
  readonly first: StateView;
  readonly second: StateView | undefined;
  readonly how: How;
  /** Lines in the colour of their own state's deviation; or those of the second in that of second − first, the first in ink. */
  readonly colourOf: "own" | "difference";
}

export type ViewDirection = "front" | "side" | "above" | "pilot" | "overview";

export interface StageProps {
  /** What lines are named from. */
  readonly analysis: Analysis;
  /** The wing at the reference setting: what the surface was made for. Stays the same while states change. */
  readonly model: WingModel;
  readonly surface: CanopySurface;
  readonly picture: StagePicture;
  /** Where the divider stands, as a share of the width, for "wipe"; and where the user moves it. */
  readonly wipeAt: number;
  readonly onWipe: (share: number) => void;
  /** Whether the states are rigged or loaded otherwise than at the reference setting; said in the caption. */
  readonly rigged: boolean;
  /** 1 to 40; multiplies the displacement from as specified, under the same rigging. What the rigging does is drawn true. */
  readonly exaggeration: number;
  /** Rows and sides whose lines are drawn; the canopy always is. */
  readonly rows: ReadonlySet<Row>;
  readonly sides: ReadonlySet<Side>;
  /** Keys of the selected lines; their mirror twins are lit too. */
  readonly selected: ReadonlySet<string>;
  /** True where the selected lines are meant alone: their twins aren't lit. */
  readonly withoutTwins?: boolean;
  readonly hovered: string | undefined;
  readonly onHover: (lineKey: string | undefined) => void;
  /** A click or tap: on a line its key, on empty space undefined. */
  readonly onSelect: (lineKey: string | undefined) => void;
  /** A higher `request` frames the direction again. */
  readonly direction: { readonly name: ViewDirection; readonly request: number };
  /** Lines to come near to; another `request` frames them, undefined goes back to the view before once nothing is selected. */
  readonly frame: { readonly keys: ReadonlySet<string>; readonly request: string } | undefined;
  /** Of what the lines are coloured by. */
  readonly scale: DeviationScale;
  /** Whether the analysis gives the mean of whole paths or each line's own change; for the words. "path" if left out. */
  readonly colouredBy?: "path" | "line";
}
