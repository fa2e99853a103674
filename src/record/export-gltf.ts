/**
 * The wing in 3D for other programs: glTF 2.0 in its binary form, with lines, straps and canopy at a solved state, coloured by
 * deviation as on the screen.
 *
 * glTF is in metres with y up, z forward and x to the left (Khronos, glTF 2.0 Specification, 3.4). The model has x aft, y to
 * the pilot's right, z up: so glTF's x is −y, its y is z, its z is −x. That is a turn, no mirror: left stays left.
 */
import { converter } from "culori";
import { cautionShort } from "../diagnosis/caution.ts";
import { type Colour, deviationColour } from "../diagnosis/colour.ts";
import type { Analysis } from "../diagnosis/model.ts";
import type { DeviationScale } from "../diagnosis/scale.ts";
import type { Equilibrium, WingModel } from "../geometry/model.ts";
import { canopySurface, surfacePositions } from "../geometry/surface.ts";
import { type Line, linesByKey, ROWS, SIDES, type Side } from "../plan/index.ts";
import { GLTF, type GltfBuffer, gltfBuffer } from "./export-gltf-file.ts";
import { finite, inMm } from "./export-table.ts";

/** Which state of the wing is drawn. */
export type ExportedState = "specified" | "measured" | "tried" | "after";

export interface GltfOptions {
  readonly state: ExportedState;
  /** Line key → what its colour shows [m], undefined for a line not measured; all lines in ink where left out. */
  readonly colourM?: ReadonlyMap<string, number | undefined>;
  readonly scale: DeviationScale;
  /** Leave out the canopy's surface and outline. */
  readonly linesOnly?: boolean;
}

const INK_HEX = "#4a5652";
const STRAP_HEX = "#4d524f";
const FABRIC_HEX = "#dde5e2";
/** Lines behind the fabric stay visible. */
const FABRIC_OPACITY = 0.65;

const toLinear = converter("lrgb");

/** What every line's own deviation is coloured by: of its path, or of the paths above it [m]. */
export function deviationsByLine(analysis: Pick<Analysis, "lines">): ReadonlyMap<string, number | undefined> {
  return new Map(analysis.lines.map(({ lineKey, deviationM }) => [lineKey, deviationM]));
}

/**
 * A GLB file of the wing at a state, in true size: a node for the lines of each row on each side, for the straps of each side,
 * for the canopy's surface and for its outline, under one node for the wing. What can't be seen stands in the nodes' extras:
 * each line's deviation and tension, the scale, the check, the axes, and the caution, in the language set.
 *
 * @param state of the analysis's model
 * @throws RangeError where the state isn't one of this model, or the scale has no range
 */
export function gltfOf(analysis: Analysis, state: Equilibrium, options: GltfOptions): Uint8Array {
  const { model, wing, check } = analysis;
  if (state.positions.length !== model.specified.positions.length)
    throw new RangeError(
      `The state has ${state.positions.length / 3} nodes, expected the model's ${model.specified.positions.length / 3}.`,
    );
  const buffer = gltfBuffer();
  const meshes: object[] = [];
  const nodes: object[] = [];
  const put = (name: string, primitive: object, extras?: object): void => {
    meshes.push({ name, primitives: [primitive] });
    nodes.push({ name, mesh: meshes.length - 1, ...(extras === undefined ? {} : { extras }) });
  };

  for (const { row, side, members } of lineGroups(analysis))
    put(`lines ${row} ${side}`, linesPrimitive(buffer, model, state, members, options), {
      row,
      side,
      lines: members.map(({ line, member }) => ({
        line: line.id,
        deviationMm: inMm(options.colourM?.get(line.key)) ?? null,
        tensionN: finite(state.tensionsN[member], 3) ?? null,
      })),
    });
  for (const side of SIDES) {
    const ends = strapEnds(model, side);
    if (ends.length > 0) put(`straps ${side}`, strapsPrimitive(buffer, state, ends), { side });
  }
  if (options.linesOnly !== true) {
    const { surface, outline } = canopyPrimitives(buffer, model, state);
    put("canopy", surface);
    put("outline", outline);
  }

  const { rangeM, neutralM } = options.scale;
  const root = {
    name: wing.name,
    children: nodes.map((_, node) => node),
    extras: {
      wing: wing.name,
      ...(check === undefined ? {} : { date: check.date }),
      state: options.state,
      caution: cautionShort(),
      units: { positions: "m", deviationMm: "mm", tensionN: "N" },
      axes: { right: "-x", up: "+y", forward: "+z" },
      scale: { shortMm: inMm(-rangeM), longMm: inMm(rangeM), neutralMm: inMm(neutralM) },
    },
  };
  return buffer.file({
    asset: { version: "2.0", generator: "Linewright", extras: { caution: cautionShort() } },
    extensionsUsed: ["KHR_materials_unlit"],
    scene: 0,
    scenes: [{ name: wing.name, nodes: [nodes.length] }],
    nodes: [...nodes, root],
    meshes,
    materials: options.linesOnly === true ? MATERIALS.slice(0, 1) : MATERIALS,
  });
}

/** Lines show their vertices' colours as they are; the fabric is lit. */
const UNLIT = 0;
const CLOTH = 1;
const INK = 2;
const MATERIALS = [
  {
    name: "lines",
    pbrMetallicRoughness: { metallicFactor: 0, roughnessFactor: 1 },
    extensions: { KHR_materials_unlit: {} },
  },
  {
    name: "canopy",
    pbrMetallicRoughness: {
      baseColorFactor: [...linear(FABRIC_HEX), FABRIC_OPACITY],
      metallicFactor: 0,
      roughnessFactor: 1,
    },
    alphaMode: "BLEND",
    doubleSided: true,
  },
  {
    name: "outline",
    pbrMetallicRoughness: {
      baseColorFactor: [...linear(INK_HEX), 1],
      metallicFactor: 0,
      roughnessFactor: 1,
    },
    extensions: { KHR_materials_unlit: {} },
  },
];

/** Colours of vertices and materials are linear in glTF (3.7.2.1, 3.9.2): sRGB, as hexadecimal or gamma-encoded, → linear light. */
function linear(colour: string | Pick<Colour, "r" | "g" | "b">): [number, number, number] {
  const { r, g, b } = toLinear(typeof colour === "string" ? colour : { mode: "rgb", ...colour }) ?? {
    r: 0,
    g: 0,
    b: 0,
  };
  return [r, g, b];
}

/** A point or direction of the model at `at`, as glTF has it; no zero is negative. */
function turned(points: ArrayLike<number>, at: number): [number, number, number] {
  return [0 - (points[at + 1] as number), points[at + 2] as number, 0 - (points[at] as number)];
}

interface LineMember {
  readonly line: Line;
  readonly member: number;
}

/** Lines that the model holds, by row and side, in the plan's order. */
function lineGroups({ wing, model }: Analysis) {
  const lines = [...linesByKey(wing).values()];
  return ROWS.flatMap((row) =>
    SIDES.flatMap((side) => {
      const members = lines.flatMap((line): LineMember[] => {
        const member = line.row === row && line.side === side ? model.lineMember.get(line.key) : undefined;
        return member === undefined ? [] : [{ line, member }];
      });
      return members.length === 0 ? [] : [{ row, side, members }];
    }),
  );
}

/** Node pairs of a side's straps: the left lies at negative y. */
function strapEnds(model: WingModel, side: Side): number[] {
  const { ends } = model.network;
  return model.memberKind.flatMap((kind, member) => {
    if (kind !== "riser") return [];
    const pair = [ends[2 * member] as number, ends[2 * member + 1] as number];
    const y = pair.reduce((sum, node) => sum + (model.specified.positions[3 * node + 1] as number), 0);
    return y < 0 === (side === "left") ? pair : [];
  });
}

function segments(state: Equilibrium, nodes: readonly number[]): Float32Array {
  return Float32Array.from(nodes.flatMap((node) => turned(state.positions, 3 * node)));
}

function linesPrimitive(
  buffer: GltfBuffer,
  model: WingModel,
  state: Equilibrium,
  members: readonly LineMember[],
  { colourM, scale }: GltfOptions,
): object {
  const { ends } = model.network;
  const nodes = members.flatMap(({ member }) => [ends[2 * member] as number, ends[2 * member + 1] as number]);
  const colours = members.flatMap(({ line }) => {
    const colour =
      colourM === undefined ? linear(INK_HEX) : linear(deviationColour(colourM.get(line.key), scale));
    return [...colour, ...colour];
  });
  return {
    mode: GLTF.lines,
    material: UNLIT,
    attributes: {
      POSITION: buffer.triples(segments(state, nodes), true),
      COLOR_0: buffer.triples(Float32Array.from(colours), false),
    },
  };
}

function strapsPrimitive(buffer: GltfBuffer, state: Equilibrium, nodes: readonly number[]): object {
  const colour = linear(STRAP_HEX);
  return {
    mode: GLTF.lines,
    material: UNLIT,
    attributes: {
      POSITION: buffer.triples(segments(state, nodes), true),
      COLOR_0: buffer.triples(Float32Array.from(nodes.flatMap(() => colour)), false),
    },
  };
}

/** The surface hung on the solved nodes, and the outline of its cell walls and edges over the same vertices. */
function canopyPrimitives(buffer: GltfBuffer, model: WingModel, state: Equilibrium) {
  const surface = canopySurface(model);
  const { rest, triangles, ribLines, edgeLines, intakeLines } = surface;
  const moved = new Float32Array(rest.length);
  const displacement = state.positions.map((x, i) => x - (model.specified.positions[i] as number));
  surfacePositions(surface, displacement, moved);
  const points = new Float32Array(rest.length);
  for (let at = 0; at < rest.length; at += 3) points.set(turned(moved, at), at);
  const vertices = points.length / 3;
  const position = buffer.triples(points, true);
  return {
    surface: {
      mode: GLTF.triangles,
      material: CLOTH,
      attributes: { POSITION: position, NORMAL: buffer.triples(normalsOf(points, triangles), false) },
      indices: buffer.indices(triangles, vertices),
    },
    outline: {
      mode: GLTF.lines,
      material: INK,
      attributes: { POSITION: position },
      indices: buffer.indices([...ribLines, ...edgeLines, ...intakeLines], vertices),
    },
  };
}

/** Unit normals at the vertices, weighted by area; straight up where a vertex has no triangle with an area. */
function normalsOf(points: Float32Array, triangles: ArrayLike<number>): Float32Array {
  const normals = new Float64Array(points.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((corner) => 3 * (triangles[t + corner] as number)) as [
      number,
      number,
      number,
    ];
    const from = (corner: number, axis: number): number =>
      (points[corner + axis] as number) - (points[a + axis] as number);
    for (let axis = 0; axis < 3; axis++) {
      const [i, j] = [(axis + 1) % 3, (axis + 2) % 3];
      const area = from(b, i) * from(c, j) - from(b, j) * from(c, i);
      for (const corner of [a, b, c]) normals[corner + axis] = (normals[corner + axis] as number) + area;
    }
  }
  const unit = new Float32Array(points.length);
  for (let at = 0; at < unit.length; at += 3) {
    const size = Math.hypot(normals[at] as number, normals[at + 1] as number, normals[at + 2] as number);
    if (size > 0)
      for (let axis = 0; axis < 3; axis++) unit[at + axis] = (normals[at + axis] as number) / size;
    else unit[at + 1] = 1;
  }
  return unit;
}
