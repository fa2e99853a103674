import { strFromU8 } from "fflate";
import { validateBytes } from "gltf-validator";
import { describe, expect, it } from "vitest";
import { deviationColour } from "../../src/diagnosis/colour.ts";
import type { Equilibrium } from "../../src/geometry/model.ts";
import { deviationsByLine, type GltfOptions, gltfOf } from "../../src/record/export-gltf.ts";
import { analysis, check, scale, unread, wing } from "./export-demo.ts";

const { model } = analysis;
const measured = analysis.measured as Equilibrium;
const options: GltfOptions = { state: "measured", colourM: deviationsByLine(analysis), scale };

interface Json {
  readonly asset: { readonly version: string; readonly extras: { readonly caution: string } };
  readonly scenes: readonly { readonly nodes: readonly number[] }[];
  readonly nodes: readonly {
    readonly name: string;
    readonly mesh?: number;
    readonly children?: readonly number[];
    readonly extras?: Record<string, unknown>;
  }[];
  readonly meshes: readonly {
    readonly primitives: readonly {
      readonly mode: number;
      readonly indices?: number;
      readonly attributes: Readonly<Record<string, number>>;
    }[];
  }[];
  readonly accessors: readonly {
    readonly bufferView: number;
    readonly count: number;
    readonly componentType: number;
  }[];
  readonly bufferViews: readonly { readonly byteOffset: number }[];
}

/** Reads a GLB back: lengths and places of the chunks as the specification has them. */
function opened(file: Uint8Array) {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const jsonLength = view.getUint32(12, true);
  const json = JSON.parse(strFromU8(file.subarray(20, 20 + jsonLength))) as Json;
  const binary = 20 + jsonLength + 8;
  const numbers = (accessor: number): number[] => {
    const { bufferView, count, componentType } = json.accessors[accessor] as Json["accessors"][number];
    const at = binary + (json.bufferViews[bufferView]?.byteOffset as number);
    return componentType === 5126
      ? Array.from({ length: 3 * count }, (_, i) => view.getFloat32(at + 4 * i, true))
      : Array.from({ length: count }, (_, i) =>
          componentType === 5123 ? view.getUint16(at + 2 * i, true) : view.getUint32(at + 4 * i, true),
        );
  };
  const node = (name: string) => {
    const found = json.nodes.find((each) => each.name === name);
    const primitive = json.meshes[found?.mesh ?? -1]?.primitives[0];
    if (found === undefined || primitive === undefined) throw new Error(`there is no node ${name}`);
    return { ...found, primitive, of: (what: string) => numbers(primitive.attributes[what] as number) };
  };
  return { json, numbers, node };
}

const file = gltfOf(analysis, measured, options);
const { json, numbers, node } = opened(file);

/** What stands in a node's extras about its lines. */
function linesOf(extras: Record<string, unknown> | undefined) {
  return (extras?.lines ?? []) as { line: string; deviationMm: number | null }[];
}

/** A line's ends in the model's frame, as the state has them. */
function endsOf(key: string, state: Equilibrium): number[] {
  const member = model.lineMember.get(key) as number;
  return [0, 1].flatMap((end) => {
    const at = 3 * (model.network.ends[2 * member + end] as number);
    return [...state.positions.slice(at, at + 3)];
  });
}

describe("the wing as glTF", () => {
  it.each([
    ["as measured", file],
    ["as specified, in ink", gltfOf(unread, model.specified, { state: "specified", scale })],
    ["without the canopy", gltfOf(analysis, measured, { ...options, linesOnly: true })],
  ])("is without fault to Khronos’ validator, %s", async (_, bytes) => {
    const { issues, info, mimeType } = await validateBytes(bytes);
    expect(issues.messages).toEqual([]);
    expect(mimeType).toBe("model/gltf-binary");
    expect(info.version).toBe("2.0");
  });

  it("would be found at fault if it were: a length of the buffer that is wrong", async () => {
    const broken = Uint8Array.from(file);
    const at = strFromU8(broken, true).lastIndexOf('"byteLength":');
    broken[at + '"byteLength":'.length] = "9".charCodeAt(0);
    const { issues } = await validateBytes(broken);
    expect(issues.numErrors).toBeGreaterThan(0);
  });

  it("has every line of the model once, by row and side, and the canopy and straps besides", () => {
    const rows = [...new Set(wing.lines.map(({ row, side }) => `lines ${row} ${side}`))];
    const names = json.nodes.map(({ name }) => name);
    expect(new Set(names)).toEqual(
      new Set([...rows, "straps left", "straps right", "canopy", "outline", wing.name]),
    );
    expect(names).toHaveLength(rows.length + 5);
    const lines = json.nodes.flatMap(({ name, extras }) =>
      linesOf(extras).map(({ line }) => `${name.split(" ")[2]}:${line}`),
    );
    expect([...lines].sort()).toEqual([...model.lineMember.keys()].sort());
    const segments = json.nodes
      .filter(({ name }) => name.startsWith("lines"))
      .reduce((sum, { name }) => sum + node(name).of("POSITION").length / 6, 0);
    expect(segments).toBe(model.lineMember.size);
    const straps = node("straps left").of("POSITION").length + node("straps right").of("POSITION").length;
    expect(straps / 6).toBe(model.memberKind.filter((kind) => kind === "riser").length);
  });

  it("has the lines where the solved state has them: x left, y up, z forward", () => {
    for (const side of ["left", "right"] as const) {
      const rear = node(`lines C ${side}`);
      const positions = rear.of("POSITION");
      linesOf(rear.extras).forEach(({ line }, i) => {
        const ends = endsOf(`${side}:${line}`, measured);
        const expected = [0, 3].flatMap((at) => [
          -(ends[at + 1] as number),
          ends[at + 2] as number,
          -(ends[at] as number),
        ]);
        expect(positions.slice(6 * i, 6 * i + 6)).toEqual(expected.map(Math.fround));
      });
    }
    const mean = (name: string, axis: number): number => {
      const values = node(name)
        .of("POSITION")
        .filter((_, i) => i % 3 === axis);
      return values.reduce((sum, value) => sum + value, 0) / values.length;
    };
    // Left is x, up is y, forward is z: glTF 2.0, 3.4.
    expect(mean("lines A left", 0)).toBeGreaterThan(1);
    expect(mean("lines A right", 0)).toBeLessThan(-1);
    expect(mean("canopy", 1)).toBeGreaterThan(mean("lines A left", 1));
    expect(mean("lines A left", 2)).toBeGreaterThan(mean("lines D left", 2));
  });

  it("colours each line as the scale does, in linear light (IEC 61966-2-1)", () => {
    const linear = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    const deviation = deviationsByLine(analysis);
    const { extras, of } = node("lines B left");
    const colours = of("COLOR_0");
    const seen = new Set<string>();
    linesOf(extras).forEach(({ line, deviationMm }, i) => {
      const deviationM = deviation.get(`left:${line}`);
      const { r, g, b, hex } = deviationColour(deviationM, scale);
      seen.add(hex);
      for (const [k, v] of [r, g, b, r, g, b].entries()) expect(colours[6 * i + k]).toBeCloseTo(linear(v), 6);
      if (deviationM === undefined) expect(deviationMm).toBeNull();
      else expect(deviationMm).toBeCloseTo(1000 * deviationM, 3);
    });
    expect(seen.size).toBeGreaterThan(3);
  });

  it("has a canopy whose upper surface looks up, with its trailing edge moved as measured", () => {
    const { primitive, of } = node("canopy");
    const [points, normals] = [of("POSITION"), of("NORMAL")];
    const indices = numbers(primitive.indices as number);
    expect(indices.length % 3).toBe(0);
    expect(Math.max(...indices)).toBe(points.length / 3 - 1);
    // Of each section the contour begins with the upper surface: in the middle of the wing it faces up.
    const middle = Math.floor(points.length / 3 / (2 * model.cells + 1)) * model.cells;
    expect(normals[3 * (middle + 9) + 1]).toBeGreaterThan(0.9);
    const still = opened(gltfOf(analysis, model.specified, { ...options, state: "specified" })).node(
      "canopy",
    );
    const moved = still.of("POSITION").map((value, i) => Math.abs(value - (points[i] as number)));
    expect(Math.max(...moved)).toBeGreaterThan(0.005);
    expect(Math.max(...moved)).toBeLessThan(0.5);
  });

  it("says what it is of, and that it is no clearance to fly", () => {
    const root = json.nodes[json.scenes[0]?.nodes[0] ?? -1];
    expect(root?.children).toHaveLength(json.nodes.length - 1);
    expect(root?.extras).toMatchObject({
      wing: wing.name,
      date: check.date,
      state: "measured",
      units: { positions: "m" },
      scale: { shortMm: -30, longMm: 30 },
    });
    expect(root?.extras?.caution).toContain("not a clearance to fly");
    expect(json.asset.extras.caution).toContain("not a clearance to fly");
  });

  it("takes a state of this model only", () => {
    const other = { ...measured, positions: measured.positions.slice(3) };
    expect(() => gltfOf(analysis, other, options)).toThrow(/nodes, expected the model/);
  });
});
