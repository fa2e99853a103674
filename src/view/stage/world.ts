/** Everything that is drawn of one wing, as a handful of batches whose arrays are rewritten in place. */
import { Group, type PerspectiveCamera } from "three";
import { GROUND_HEX } from "../../diagnosis/colour.ts";
import type { WingModel } from "../../geometry/model.ts";
import { type CanopySurface, surfacePositions } from "../../geometry/surface.ts";
import { fabric } from "./fabric.ts";
import { type FatLines, fatLines, setColour, setRangeLook } from "./fatLines.ts";
import { links } from "./links.ts";
import { INK_HEX, LOOK, LOOK_SIZE, rgbOf } from "./look.ts";
import { type Mark, marks } from "./marks.ts";
import { addDisplacement, fillLengths, fillSegments } from "./shape.ts";
import type { StageTopology } from "./topology.ts";

/** Order of drawing: what is behind first; the ghost is printed on the ground, lit lines lie above everything. */
const ORDER = { ghost: 0, walls: 1, straps: 2, lines: 3, links: 4, fabric: 5, lit: 7, marks: 8 } as const;

const WALL = { hex: "#aab5b1", widthPx: 1 };
const EDGE = { hex: "#566561", widthPx: 1.3 };
const LIP = { hex: "#6f7e79", widthPx: 1.1 };
const GHOST = { hex: "#a3aeaa", lineWidthPx: 1, edgeWidthPx: 1.1 };
/** Webbing in true width [m] where that is between the least and the most [CSS px]; a seam along its middle. */
const STRAP = { hex: "#4d524f", widthPx: 5, widthM: 0.02, least: 2.6, most: 9 };
const SEAM = { hex: "#8b918d", widthPx: 1.1 };
/** Pictures smaller than this in either direction have finer lines, down to this share. */
const SMALL = { belowPx: 620, share: 0.72 };
const HALO_PX = 4;
const DASH_PX = { dash: 5, gap: 4 };
/** Ends of a few lit lines and their twins. */
const MARK_CAPACITY = 16;
const PULLEY_MARK_PX = 6;

export interface World {
  readonly object: Group;
  /** 3n node positions as drawn [m]. */
  readonly positions: Float64Array;
  /** Redraws the shape with these node displacements, already exaggerated [m]. */
  setShape(displacement: Float64Array): void;
  /** The same for the ghost behind. */
  setGhost(displacement: Float64Array): void;
  /**
   * @param looks as from `fillLooks`. @param unmeasured flag per line: drawn dashed.
   * @param ghost 0 to 1: how visible the specified shape is behind. @param dashGap 0 to 1: dashes open from a full line.
   */
  setLooks(looks: Float64Array, unmeasured: Uint8Array, ghost: number, dashGap: number): void;
  setMarks(lineEnds: readonly Mark[]): void;
  /** Everything that depends on the camera: link sizes, dash lengths. */
  face(
    camera: PerspectiveCamera,
    distanceM: number,
    widthPx: number,
    heightPx: number,
    pixelRatio: number,
  ): void;
  dispose(): void;
}

export function world(model: WingModel, topology: StageTopology, surface: CanopySurface): World {
  const n = topology.keys.length;
  const walls = surface.ribLines.length / 2;
  const edges = surface.edgeLines.length / 2;
  const lips = surface.intakeLines.length / 2;
  const straps = topology.straps.length / 2;
  const specified = model.specified.positions;

  const ghost = fatLines(n + edges, { renderOrder: ORDER.ghost, background: true });
  const outline = fatLines(walls + edges + lips, { renderOrder: ORDER.walls });
  const webbing = fatLines(2 * straps, { renderOrder: ORDER.straps });
  const solid = fatLines(n, { renderOrder: ORDER.lines });
  const dashed = fatLines(n, { renderOrder: ORDER.lines + 0.5, dashed: true });
  // All halos before all cores: neighbouring lit lines don't cut into each other.
  const lit = fatLines(2 * n, { renderOrder: ORDER.lit, above: true });
  const hardware = links(topology, INK_HEX, ORDER.links);
  const cloth = fabric(surface.rest, surface.triangles, ORDER.fabric);
  const points = marks(MARK_CAPACITY + topology.pulleys.length, ORDER.marks);
  const pulleyMarks: Mark[] = Array.from(topology.pulleys, (node) => ({
    node,
    colour: rgbOf(INK_HEX),
    diameterPx: PULLEY_MARK_PX,
    hollow: true,
  }));
  let lineMarks: readonly Mark[] = [];

  const object = new Group();
  const batches: readonly FatLines[] = [ghost, outline, webbing, solid, dashed, lit];
  object.add(...batches.map((b) => b.object), hardware.object, cloth.object, points.object);

  setRangeLook(ghost, 0, n, { hex: GHOST.hex, widthPx: GHOST.lineWidthPx });
  setRangeLook(ghost, n, edges, { hex: GHOST.hex, widthPx: GHOST.edgeWidthPx });
  setRangeLook(outline, 0, walls, WALL);
  setRangeLook(outline, walls, edges, EDGE);
  setRangeLook(outline, walls + edges, lips, LIP);
  outline.looksChanged();
  setRangeLook(webbing, 0, straps, STRAP);
  setRangeLook(webbing, straps, straps, SEAM);
  webbing.looksChanged();

  const positions = Float64Array.from(specified);
  const ground = rgbOf(GROUND_HEX);

  function setShape(displacement: Float64Array): void {
    addDisplacement(specified, displacement, positions);
    for (const batch of [solid, dashed, lit]) fillSegments(positions, topology.lineEnds, batch.positions);
    fillSegments(positions, topology.lineEnds, lit.positions, n);
    fillLengths(dashed.positions, dashed.lengths);
    fillSegments(positions, topology.straps, webbing.positions);
    fillSegments(positions, topology.straps, webbing.positions, straps);
    surfacePositions(surface, displacement, cloth.positions);
    cloth.positionsChanged();
    fillSegments(cloth.positions, surface.ribLines, outline.positions);
    fillSegments(cloth.positions, surface.edgeLines, outline.positions, walls);
    fillSegments(cloth.positions, surface.intakeLines, outline.positions, walls + edges);
    for (const batch of [outline, webbing, solid, dashed, lit]) batch.positionsChanged();
    points.move(positions);
  }
  const ghostNodes = Float64Array.from(specified);
  const ghostCloth = new Float32Array(surface.rest.length);
  function setGhost(displacement: Float64Array): void {
    addDisplacement(specified, displacement, ghostNodes);
    surfacePositions(surface, displacement, ghostCloth);
    fillSegments(ghostNodes, topology.lineEnds, ghost.positions);
    fillSegments(ghostCloth, surface.edgeLines, ghost.positions, n);
    ghost.positionsChanged();
  }
  setShape(new Float64Array(positions.length));
  setGhost(new Float64Array(positions.length));
  points.set(pulleyMarks, positions);

  return {
    object,
    positions,
    setShape,
    setGhost,
    setLooks(looks, unmeasured, ghostShare, dashGap) {
      let anyLit = false;
      for (let i = 0; i < n; i++) {
        const o = LOOK_SIZE * i;
        const r = looks[o + LOOK.r] as number;
        const g = looks[o + LOOK.g] as number;
        const b = looks[o + LOOK.b] as number;
        const width = looks[o + LOOK.width] as number;
        const litWidth = looks[o + LOOK.litWidth] as number;
        setColour(solid, i, r, g, b);
        setColour(dashed, i, r, g, b);
        setColour(lit, i, ground.r, ground.g, ground.b);
        setColour(lit, n + i, r, g, b);
        solid.widths[i] = unmeasured[i] === 0 ? width : 0;
        dashed.widths[i] = unmeasured[i] === 0 ? 0 : width;
        ghost.widths[i] = width > 0 ? GHOST.lineWidthPx : 0;
        lit.widths[i] = litWidth > 0.01 ? litWidth + HALO_PX : 0;
        lit.widths[n + i] = litWidth;
        anyLit ||= litWidth > 0.01;
      }
      for (const batch of [solid, dashed, ghost, lit]) batch.looksChanged();
      ghost.material.opacity = ghostShare;
      ghost.object.visible = ghostShare > 0.01;
      lit.object.visible = anyLit;
      dashed.object.visible = unmeasured.includes(1);
      dashed.material.gapSize = DASH_PX.gap * dashGap;
    },
    setMarks(next) {
      lineMarks = next;
      points.set([...pulleyMarks, ...lineMarks], positions);
    },
    face(camera, distanceM, widthPx, heightPx, pixelRatio) {
      const pxPerMetre = heightPx / (2 * Math.tan((camera.fov * Math.PI) / 360) * distanceM);
      // A small picture gets finer lines: as many of them have to stand side by side.
      const fine = Math.min(1, Math.max(SMALL.share, Math.min(widthPx, heightPx) / SMALL.belowPx));
      for (const batch of [solid, dashed, lit]) batch.material.linewidth = fine;
      webbing.material.linewidth =
        Math.min(STRAP.most, Math.max(STRAP.least, pxPerMetre * STRAP.widthM)) / STRAP.widthPx;
      hardware.place(positions, camera, heightPx, fine);
      points.setPixelRatio(pixelRatio);
      // Dashes are measured in metres by the shader: this makes them pixels at the distance of what is looked at.
      dashed.material.dashSize = DASH_PX.dash;
      dashed.material.dashScale = pxPerMetre;
    },
    dispose() {
      for (const batch of batches) batch.dispose();
      hardware.dispose();
      cloth.dispose();
      points.dispose();
    },
  };
}
