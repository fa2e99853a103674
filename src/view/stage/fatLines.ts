/** One draw call for any number of straight lines, each with its own colour and its own width in CSS pixels. */
import { InstancedBufferAttribute, type InterleavedBufferAttribute } from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { linearOf, rgbOf } from "./look.ts";

export interface FatLines {
  readonly object: LineSegments2;
  readonly material: LineMaterial;
  /** x y z x y z per segment [m]; write, then `positionsChanged`. */
  readonly positions: Float32Array;
  /** r g b (linear light) per segment; write with `setColour`, then `looksChanged`. */
  readonly colours: Float32Array;
  /** Width per segment [CSS px]; 0 draws nothing. */
  readonly widths: Float32Array;
  /** Length per segment [m], for dashing; empty unless dashed. */
  readonly lengths: Float32Array;
  positionsChanged(): void;
  looksChanged(): void;
  dispose(): void;
}

export interface FatLinesOptions {
  readonly renderOrder: number;
  readonly dashed?: boolean;
  /** Drawn over everything that is already there. */
  readonly above?: boolean;
  /** Leaves no trace in the depth buffer: anything later is drawn over it. */
  readonly background?: boolean;
}

/** @param count segments, fixed for the batch's life. */
export function fatLines(count: number, options: FatLinesOptions): FatLines {
  const positions = new Float32Array(6 * count);
  const colourPairs = new Float32Array(6 * count);
  const widths = new Float32Array(count);
  const lengths = new Float32Array(options.dashed ? count : 0);

  const geometry = new LineSegmentsGeometry();
  geometry.setPositions(positions);
  geometry.setColors(colourPairs);
  const widthAttribute = new InstancedBufferAttribute(widths, 1);
  geometry.setAttribute("instanceWidth", widthAttribute);
  const lengthAttribute = new InstancedBufferAttribute(lengths, 1);
  if (options.dashed) {
    geometry.setAttribute("instanceDistanceStart", new InstancedBufferAttribute(new Float32Array(count), 1));
    geometry.setAttribute("instanceDistanceEnd", lengthAttribute);
  }

  const material = new LineMaterial({
    vertexColors: true,
    linewidth: 1,
    dashed: options.dashed ?? false,
    // Everything is in the transparent pass, so that renderOrder alone decides the order of drawing.
    transparent: true,
    depthTest: !options.above,
    depthWrite: !(options.above || options.background),
  });
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader
      .replace("uniform float linewidth;", "uniform float linewidth;\n\t\tattribute float instanceWidth;")
      .replace("offset *= linewidth;", "offset *= linewidth * instanceWidth;");
  };
  material.customProgramCacheKey = () => "width per segment";

  const object = new LineSegments2(geometry, material);
  object.frustumCulled = false;
  object.renderOrder = options.renderOrder;

  const interleaved = (name: string) => (geometry.getAttribute(name) as InterleavedBufferAttribute).data;
  return {
    object,
    material,
    positions,
    colours: colourPairs,
    widths,
    lengths,
    positionsChanged() {
      interleaved("instanceStart").needsUpdate = true;
      lengthAttribute.needsUpdate = true;
    },
    looksChanged() {
      interleaved("instanceColorStart").needsUpdate = true;
      widthAttribute.needsUpdate = true;
    },
    dispose() {
      geometry.dispose();
      material.dispose();
    },
  };
}

/** Sets one segment's colour at both ends from gamma-encoded sRGB. */
export function setColour(lines: FatLines, segment: number, r: number, g: number, b: number): void {
  const o = 6 * segment;
  const c = lines.colours;
  c[o] = c[o + 3] = linearOf(r);
  c[o + 1] = c[o + 4] = linearOf(g);
  c[o + 2] = c[o + 5] = linearOf(b);
}

/** Gives `count` segments from `first` on the same colour and width; `looksChanged` is left to the caller. */
export function setRangeLook(
  lines: FatLines,
  first: number,
  count: number,
  look: { readonly hex: string; readonly widthPx: number },
): void {
  const { r, g, b } = rgbOf(look.hex);
  for (let i = first; i < first + count; i++) setColour(lines, i, r, g, b);
  lines.widths.fill(look.widthPx, first, first + count);
}
