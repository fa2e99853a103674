/**
 * How every line looks: colour, width and whether it stands out, from deviation, selection, hover and filters.
 *
 * Everything is a number per line, so that a change can glide and one batch can draw them all.
 */
import { deviationColour, GROUND_HEX, isBeyondScale } from "../../diagnosis/colour.ts";
import type { StageProps } from "./props.ts";
import type { StageTopology } from "./topology.ts";
import { type LineIndex, mirrorTwins, pathThrough } from "./trace.ts";

/** Numbers per line in a look array: r, g, b (sRGB, gamma-encoded, 0 to 1), width, lit width [CSS px]. */
export const LOOK_SIZE = 5;
export const LOOK = { r: 0, g: 1, b: 2, width: 3, litWidth: 4 } as const;

/** Line key → what its colour shows, undefined where there is nothing to show [m]; undefined for ink throughout. */
export type ColourM = ReadonlyMap<string, number | undefined> | undefined;

/** What a line is to the present hover and selection. */
export type Standing = "lit" | "twin" | "path" | "plain";

/** Ink of a line whose deviation isn't drawn: the specified state. */
export const INK_HEX = "#4a5652";
/** Nothing competes with them: lines in ink are drawn finer than coloured ones. */
const INK_WIDTH_SHARE = 0.7;

/** Width by tier, lower lines being the stouter ones [CSS px]. */
const TIER_WIDTH_PX = [2.4, 2.1, 1.8, 1.6];
const BEYOND_SCALE_WIDTH_PX = 3.5;
const NOT_MEASURED_WIDTH_PX = 1.3;
const LIT_WIDTH_PX = 4;

/** How far lines that aren't concerned go back towards the ground, 0 to 1: more for a selection than for a passing hover. */
const RECEDE = { selected: 0.74, hovered: 0.5 };
/** With more lines than this selected, paths aren't traced and ends aren't marked: everything would be. */
const FEW = 4;

export interface Focus {
  /** By line key; a line that isn't in it is plain. */
  readonly standing: ReadonlyMap<string, Standing>;
  /** Share by which plain lines recede towards the ground. */
  readonly recede: number;
  /** Lines whose ends are marked: solid for lit ones, hollow for twins. */
  readonly marked: readonly string[];
}

/**
 * Who stands out: hovered and selected lines, their twins, and the path up and down of a few.
 *
 * @param withoutTwins the lines are meant alone, such as one that is to be read on its own side
 */
export function focusOf(
  lines: LineIndex,
  selected: ReadonlySet<string>,
  hovered: string | undefined,
  withoutTwins = false,
): Focus {
  const chosen = [...selected].filter((key) => lines.has(key));
  const lit = new Set(chosen);
  if (hovered !== undefined && lines.has(hovered)) lit.add(hovered);
  const few = lit.size <= FEW;
  const twins = withoutTwins ? new Set<string>() : mirrorTwins(lines, lit);
  const standing = new Map<string, Standing>();
  const traced = few ? lit : hovered === undefined ? [] : [hovered];
  for (const key of traced) for (const on of pathThrough(lines, key)) standing.set(on, "path");
  for (const key of twins) standing.set(key, "twin");
  for (const key of lit) standing.set(key, "lit");
  const recede = chosen.length > 0 ? RECEDE.selected : lit.size > 0 ? RECEDE.hovered : 0;
  const marked = few
    ? [...lit, ...twins]
    : hovered === undefined
      ? []
      : [hovered, ...mirrorTwins(lines, [hovered])];
  return { standing, recede, marked };
}

/** Whether a line passes the row and side filters. */
export function passesFilters(
  lines: LineIndex,
  key: string,
  rows: StageProps["rows"],
  sides: StageProps["sides"],
): boolean {
  const line = lines.get(key);
  return line !== undefined && rows.has(line.row) && sides.has(line.side);
}

/** Which lines have no reading to colour them by; all false for a state that is drawn in ink. */
export function unmeasuredFlags(colourM: ColourM, topology: StageTopology): Uint8Array {
  return Uint8Array.from(topology.keys, (key) =>
    colourM === undefined || colourM.get(key) !== undefined ? 0 : 1,
  );
}

/**
 * Writes how every line should look.
 *
 * @param out `LOOK_SIZE` numbers per line of the topology; filtered lines get width 0. `litWidth` is the width in which a
 * line that stands out is drawn once more above everything; 0 for the others.
 */
export function fillLooks(
  props: Pick<StageProps, "rows" | "sides" | "scale"> & { readonly colourM: ColourM },
  topology: StageTopology,
  lines: LineIndex,
  focus: Focus,
  out: Float64Array,
): void {
  const coloured = props.colourM !== undefined;
  const ground = rgbOf(GROUND_HEX);
  const ink = rgbOf(INK_HEX);
  topology.keys.forEach((key, i) => {
    const o = LOOK_SIZE * i;
    const standing = focus.standing.get(key) ?? "plain";
    const deviationM = props.colourM?.get(key);
    const colour = coloured ? deviationColour(deviationM, props.scale) : ink;
    const recede = standing === "plain" ? focus.recede : 0;
    out[o + LOOK.r] = colour.r + recede * (ground.r - colour.r);
    out[o + LOOK.g] = colour.g + recede * (ground.g - colour.g);
    out[o + LOOK.b] = colour.b + recede * (ground.b - colour.b);
    if (!passesFilters(lines, key, props.rows, props.sides)) {
      out[o + LOOK.width] = 0;
      out[o + LOOK.litWidth] = 0;
      return;
    }
    const tier = lines.get(key)?.tier ?? 1;
    const byTier = TIER_WIDTH_PX[Math.min(tier, TIER_WIDTH_PX.length) - 1] as number;
    let width = coloured ? byTier : byTier * INK_WIDTH_SHARE;
    if (coloured && deviationM === undefined) width = NOT_MEASURED_WIDTH_PX;
    if (coloured && isBeyondScale(deviationM, props.scale)) width = BEYOND_SCALE_WIDTH_PX;
    out[o + LOOK.width] = width;
    const litWidth = { lit: LIT_WIDTH_PX, twin: LIT_WIDTH_PX, path: 0, plain: 0 }[standing];
    out[o + LOOK.litWidth] = litWidth > 0 ? Math.max(litWidth, width + 1) : 0;
    if (standing === "path") out[o + LOOK.width] = width + 0.6;
  });
}

/** `#rrggbb` → sRGB 0 to 1. */
export function rgbOf(hex: string): { readonly r: number; readonly g: number; readonly b: number } {
  const n = Number.parseInt(hex.slice(1), 16);
  return { r: ((n >> 16) & 255) / 255, g: ((n >> 8) & 255) / 255, b: (n & 255) / 255 };
}

/** One sRGB channel, gamma-encoded → linear light: what the renderer takes (IEC 61966-2-1). */
export function linearOf(v: number): number {
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}
