/** When two items say the same: contents as texts that can be compared, and short marks of them. */
import { strToU8 } from "fflate";
import { checkFileSchema } from "../readings/index.ts";
import { crc32 } from "./crc.ts";
import type { EditedItem, KeptCheck, Photo, PlanVersion } from "./model.ts";

/** JSON with its keys in alphabetical order, so that equal values give equal texts; undefined fields are left out. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) =>
    typeof part === "object" && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : part,
  );
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** A plan's content: however its file is laid out. */
export function planContent({ text }: Pick<PlanVersion, "text">): string {
  const value = parsed(text);
  return value === undefined ? text.trim() : canonicalJson(value);
}

/**
 * A check's content: its day, how it was read, and its readings, in whatever order they stand. Several entries for one tab or
 * line are repeats of one reading. A check that can't be read, or a table, is its text and its frame.
 */
export function checkContent({ text, frame }: Pick<KeptCheck, "text" | "frame">): string {
  const value = parsed(text);
  const file = checkFileSchema.safeParse(value);
  if (!file.success)
    return canonicalJson({ text: value === undefined ? text.trim() : canonicalJson(value), frame });
  const { readings, ...head } = file.data;
  const repeats = new Map<string, number[]>();
  for (const { mm, ...target } of readings) {
    const key = canonicalJson(target);
    repeats.set(key, [...(repeats.get(key) ?? []), ...[mm].flat()]);
  }
  return canonicalJson({ ...head, readings: [...repeats].sort(([a], [b]) => (a < b ? -1 : 1)) });
}

/**
 * A photo's content: its length and two checksums of its bytes, together 64 bits. Two different photos that agree in all of
 * that would be taken for one: by chance once in 10¹⁹ pairs.
 */
export function photoContent({ bytes }: Pick<Photo, "bytes">): string {
  let fnv = 0x811c9dc5;
  for (const byte of bytes) fnv = Math.imul(fnv ^ byte, 0x01000193);
  return `${bytes.length}-${hex(crc32(bytes))}-${hex(fnv >>> 0)}`;
}

/** What an edited item says, apart from when, and from the name of its file. */
export function editedContent(item: EditedItem & { readonly name?: string }): string {
  const { id: _, differsFrom: __, changedAt: ___, earlier: ____, name: _____, ...rest } = item;
  return canonicalJson(rest);
}

/** A state of an edited item, as later states remember it: its instant, and a mark of what it said. */
export function stateMark(item: EditedItem): string {
  return `${item.changedAt} ${markOf(editedContent(item))}`;
}

/** A short mark of a content, for an id: the same for the same content on every device. */
export function markOf(content: string): string {
  const bytes = strToU8(content);
  return `${hex(crc32(bytes))}${bytes.length.toString(16)}`;
}

const hex = (value: number): string => value.toString(16).padStart(8, "0");
