/**
 * The canopy's surface as drawn: sections on every cell wall and bulged half-way between, hung on the solved nodes.
 *
 * The section and the bulge are for the eye; where the surface goes is solved: every vertex moves with the tabs around
 * it (linear between them along the chord and the span).
 */
import type { WingModel } from "./model.ts";
import { pointOnRib, ribFrame } from "./outline.ts";
import { sectionHeight } from "./section.ts";
import { add, pitched, type Vector } from "./vector.ts";

export interface CanopySurface {
  /** 3v positions at the specified state [m]. */
  readonly rest: Float32Array;
  /** Vertex indices, three a triangle, outside seen counter-clockwise. */
  readonly triangles: Uint32Array;
  /** Vertex index pairs: the outline of every cell wall. */
  readonly ribLines: Uint32Array;
  /** Vertex index pairs along the leading and the trailing edge. */
  readonly edgeLines: Uint32Array;
  /** Vertex index pairs along the lips of the air intakes. */
  readonly intakeLines: Uint32Array;
  /** Four nodes a vertex and their weights. */
  readonly nodes: Int32Array;
  readonly weights: Float32Array;
}

const UPPER_POINTS = 18;
const LOWER_POINTS = 13;
/** How far a cell bulges between its walls, over its width; for the eye. */
const BULGE = 0.14;
/** Chord fractions of the intake's lips on the lower surface. */
const INTAKE: readonly [number, number] = [0.012, 0.045];
/** How far a displacement is prolonged ahead of the first and behind the last node, in the segment's lengths. */
const PROLONG = 0.6;

export function canopySurface(model: WingModel): CanopySurface {
  const { cells } = model;
  const contour = sectionContour();
  const stations = 2 * cells + 1;
  const perStation = contour.length;
  const vertices = stations * perStation;
  const rest = new Float32Array(3 * vertices);
  const nodes = new Int32Array(4 * vertices);
  const weights = new Float32Array(4 * vertices);
  const cellWidth = (2 * model.outline.flatHalfSpanM) / cells;

  for (let s = 0; s < stations; s++) {
    const sigma = -1 + (2 * s) / (stations - 1);
    const frame = ribFrame(model.outline, Math.max(-1, Math.min(1, sigma)));
    const between = s % 2 === 1;
    contour.forEach(({ fraction, upper }, k) => {
      const v = s * perStation + k;
      // The bulge dies out towards the trailing edge, where the cells run flat.
      const bulge = between
        ? (BULGE * cellWidth * (upper ? 1 : -0.6) * Math.min(1, 4 * (1 - fraction))) / frame.chordM
        : 0;
      const height = sectionHeight(fraction, upper ? "upper" : "lower") + bulge;
      const drawn = pitched(add(pointOnRib(frame, fraction, height), model.offset), model.pitchRad);
      interpolation(model, sigma, fraction, nodes, weights, 4 * v);
      const moved = absorbed(model, nodes, weights, 4 * v, drawn);
      rest.set(moved, 3 * v);
    });
  }

  const triangles: number[] = [];
  const ribLines: number[] = [];
  const edgeLines: number[] = [];
  const intakeLines: number[] = [];
  const nose = UPPER_POINTS - 1;
  const lips = INTAKE.map((fraction) =>
    contour.findIndex((point) => !point.upper && point.fraction === fraction),
  );
  for (let s = 0; s < stations; s++) {
    const at = s * perStation;
    if (s % 2 === 0) for (let k = 1; k < perStation; k++) ribLines.push(at + k - 1, at + k);
    if (s === 0) continue;
    const before = at - perStation;
    for (let k = 1; k < perStation; k++) {
      triangles.push(before + k - 1, at + k - 1, before + k, at + k - 1, at + k, before + k);
    }
    edgeLines.push(before + nose, at + nose, before, at);
    for (const lip of lips) if (lip >= 0) intakeLines.push(before + lip, at + lip);
  }
  return {
    rest,
    triangles: Uint32Array.from(triangles),
    ribLines: Uint32Array.from(ribLines),
    edgeLines: Uint32Array.from(edgeLines),
    intakeLines: Uint32Array.from(intakeLines),
    nodes,
    weights,
  };
}

/**
 * Vertex positions for given node displacements from the specified state.
 *
 * @param displacement 3n, exaggerated already if it's to be [m]
 * @param out 3v, overwritten [m]
 */
export function surfacePositions(
  surface: CanopySurface,
  displacement: Float64Array,
  out: Float32Array,
): void {
  const { rest, nodes, weights } = surface;
  for (let v = 0; v < rest.length / 3; v++) {
    let x = rest[3 * v] as number;
    let y = rest[3 * v + 1] as number;
    let z = rest[3 * v + 2] as number;
    for (let j = 4 * v; j < 4 * v + 4; j++) {
      const w = weights[j] as number;
      const node = 3 * (nodes[j] as number);
      x += w * (displacement[node] as number);
      y += w * (displacement[node + 1] as number);
      z += w * (displacement[node + 2] as number);
    }
    out[3 * v] = x;
    out[3 * v + 1] = y;
    out[3 * v + 2] = z;
  }
}

/** Around the section: upper surface from the trailing edge to the nose, lower surface back. */
function sectionContour(): { fraction: number; upper: boolean }[] {
  const points: { fraction: number; upper: boolean }[] = [];
  for (let k = 0; k < UPPER_POINTS; k++)
    points.push({ fraction: (1 + Math.cos((Math.PI * k) / (UPPER_POINTS - 1))) / 2, upper: true });
  const lower = [...INTAKE];
  for (let k = 2; k < LOWER_POINTS; k++) lower.push((1 - Math.cos((Math.PI * k) / (LOWER_POINTS - 1))) / 2);
  lower.sort((a, b) => a - b);
  return [...points, ...lower.map((fraction) => ({ fraction, upper: false }))];
}

/** Nodes and weights of a point at signed σ and a chord fraction: two ribs with two nodes each. */
function interpolation(
  model: WingModel,
  sigma: number,
  fraction: number,
  nodes: Int32Array,
  weights: Float32Array,
  start: number,
): void {
  const ribs = model.ribs.filter((rib) => rib.nodes.length > 1);
  const signed = (rib: (typeof ribs)[number]): number => (rib.side === "left" ? -rib.sigma : rib.sigma);
  let r = 0;
  while (r < ribs.length - 2 && sigma > signed(ribs[r + 1] as (typeof ribs)[number])) r++;
  const pair = [ribs[r], ribs[Math.min(r + 1, ribs.length - 1)]] as [
    (typeof ribs)[number],
    (typeof ribs)[number],
  ];
  const gap = signed(pair[1]) - signed(pair[0]);
  const t = gap > 0 ? Math.max(0, Math.min(1, (sigma - signed(pair[0])) / gap)) : 0;
  pair.forEach((rib, side) => {
    const share = side === 0 ? 1 - t : t;
    let k = 0;
    while (
      k < rib.nodes.length - 2 &&
      fraction > (rib.nodes[k + 1] as (typeof rib.nodes)[number]).chordFraction
    )
      k++;
    const front = rib.nodes[k] as (typeof rib.nodes)[number];
    const rear = rib.nodes[k + 1] as (typeof rib.nodes)[number];
    const width = rear.chordFraction - front.chordFraction;
    const lever =
      width > 0 ? Math.max(-PROLONG, Math.min(1 + PROLONG, (fraction - front.chordFraction) / width)) : 0;
    nodes[start + 2 * side] = front.node;
    nodes[start + 2 * side + 1] = rear.node;
    weights[start + 2 * side] = share * (1 - lever);
    weights[start + 2 * side + 1] = share * lever;
  });
}

/** A drawn point moved by what the specified state absorbed around it. */
function absorbed(
  model: WingModel,
  nodes: Int32Array,
  weights: Float32Array,
  start: number,
  drawn: Vector,
): Vector {
  const moved: Vector = [...drawn];
  for (let j = start; j < start + 4; j++) {
    const node = 3 * (nodes[j] as number);
    for (let axis = 0; axis < 3; axis++) {
      const shift = (model.specified.positions[node + axis] as number) - (model.drawn[node + axis] as number);
      moved[axis] = (moved[axis] as number) + (weights[j] as number) * shift;
    }
  }
  return moved;
}
