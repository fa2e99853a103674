/** The binary form of glTF 2.0: accessors over one buffer, and the file that holds them (Khronos, glTF 2.0 Specification). */
import { strToU8 } from "fflate";

/** Numbers of the specification: types of components, uses of buffer views, modes of primitives (sections 3.6, 3.7). */
export const GLTF = {
  float: 5126,
  unsignedShort: 5123,
  unsignedInt: 5125,
  vertices: 34962,
  indices: 34963,
  lines: 1,
  triangles: 4,
} as const;

/** Section 4.4: magic number, version and the types of the two chunks. */
const GLB = { magic: 0x46546c67, version: 2, json: 0x4e4f534a, binary: 0x004e4942, header: 12, chunk: 8 };
const SPACE = 0x20;
/** The largest index of 16 bits restarts a primitive and may not name a vertex (section 3.7.2.1). */
const MOST_SHORT_VERTICES = 65_535;

interface Accessor {
  readonly bufferView: number;
  readonly componentType: number;
  readonly count: number;
  readonly type: "SCALAR" | "VEC3";
  readonly min?: readonly number[];
  readonly max?: readonly number[];
}

interface BufferView {
  readonly buffer: 0;
  readonly byteOffset: number;
  readonly byteLength: number;
  readonly target: number;
}

export interface GltfBuffer {
  /** Adds triples of a vertex attribute; returns the accessor. @param bounds whether least and greatest are stated, as positions need */
  readonly triples: (values: Float32Array, bounds: boolean) => number;
  /** Adds indices into so many vertices; returns the accessor. */
  readonly indices: (values: ArrayLike<number>, vertices: number) => number;
  /** The file: the rest of its JSON, with what was added. */
  readonly file: (json: Readonly<Record<string, unknown>>) => Uint8Array;
}

/** An empty buffer to be filled. Bytes are written as the machine has them, which is little-endian, as glTF asks, on all that run this. */
export function gltfBuffer(): GltfBuffer {
  const parts: Uint8Array[] = [];
  const bufferViews: BufferView[] = [];
  const accessors: Accessor[] = [];
  let length = 0;

  const add = (
    values: Float32Array | Uint16Array | Uint32Array,
    target: number,
    rest: Omit<Accessor, "bufferView">,
  ) => {
    const bytes = new Uint8Array(values.buffer, values.byteOffset, values.byteLength);
    bufferViews.push({ buffer: 0, byteOffset: length, byteLength: bytes.length, target });
    parts.push(padded(bytes, 0));
    length += (parts.at(-1) as Uint8Array).length;
    return accessors.push({ bufferView: bufferViews.length - 1, ...rest }) - 1;
  };

  return {
    triples: (values, bounds) =>
      add(values, GLTF.vertices, {
        componentType: GLTF.float,
        count: values.length / 3,
        type: "VEC3",
        ...(bounds ? boundsOf(values) : {}),
      }),
    indices: (values, vertices) => {
      const short = vertices <= MOST_SHORT_VERTICES;
      return add(short ? Uint16Array.from(values) : Uint32Array.from(values), GLTF.indices, {
        componentType: short ? GLTF.unsignedShort : GLTF.unsignedInt,
        count: values.length,
        type: "SCALAR",
      });
    },
    file: (json) => {
      const binary = joined(parts, length);
      const text = JSON.stringify({ ...json, accessors, bufferViews, buffers: [{ byteLength: length }] });
      return glb(padded(strToU8(text), SPACE), binary);
    },
  };
}

function boundsOf(values: Float32Array): Required<Pick<Accessor, "min" | "max">> {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  values.forEach((value, i) => {
    min[i % 3] = Math.min(min[i % 3] as number, value);
    max[i % 3] = Math.max(max[i % 3] as number, value);
  });
  return { min, max };
}

/** Filled up to whole words of four bytes. */
function padded(bytes: Uint8Array, filler: number): Uint8Array {
  const whole = new Uint8Array(4 * Math.ceil(bytes.length / 4)).fill(filler);
  whole.set(bytes);
  return whole;
}

function joined(parts: readonly Uint8Array[], length: number): Uint8Array {
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

function glb(json: Uint8Array, binary: Uint8Array): Uint8Array {
  const { header, chunk } = GLB;
  const length = header + chunk + json.length + chunk + binary.length;
  const file = new Uint8Array(length);
  const view = new DataView(file.buffer);
  const words = (at: number, values: readonly number[]): void =>
    values.forEach((value, i) => void view.setUint32(at + 4 * i, value, true));
  words(0, [GLB.magic, GLB.version, length, json.length, GLB.json]);
  file.set(json, header + chunk);
  words(header + chunk + json.length, [binary.length, GLB.binary]);
  file.set(binary, header + 2 * chunk + json.length);
  return file;
}
