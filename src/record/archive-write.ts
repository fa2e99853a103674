/** Writes everything that is kept as one file. */
import { strToU8, type Zippable, zipSync } from "fflate";
import {
  ARCHIVE_FORMAT,
  fileOf,
  MANIFEST,
  type Manifest,
  WING_FILE,
  WING_FORMAT,
  wingFolder,
} from "./archive-files.ts";
import { crc32 } from "./crc.ts";
import { RECORD_VERSION, type WingRecord, type WingRecords } from "./model.ts";

/** ZIP has times without a zone; a fixed one lets the same record give the same archive. */
const NO_TIME = "1980-01-01T00:00:00";
const PACKED = 6;
/** Photos are packed already. */
const UNPACKED = 0;

const jsonBytes = (value: unknown): Uint8Array => strToU8(`${JSON.stringify(value, null, 2)}\n`);

/** A wing's files by their names in its folder. */
function filesOf(wing: WingRecord): ReadonlyMap<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  const texts = <T extends { readonly text: string }>(items: readonly T[], name: (item: T) => string) =>
    items.map((item) => {
      files.set(name(item), strToU8(item.text));
      const { text: _, ...described } = item;
      return { ...described, file: name(item) };
    });
  const described = {
    format: WING_FORMAT,
    version: RECORD_VERSION,
    id: wing.id,
    name: wing.name,
    planInUse: wing.planInUse,
    nextCheck: wing.nextCheck,
    plans: texts(wing.plans, fileOf.plans),
    checks: texts(wing.checks, fileOf.checks),
    books: texts(wing.books, fileOf.books),
    photos: wing.photos.map((photo) => {
      files.set(fileOf.photos(photo), photo.bytes);
      const { bytes: _, ...rest } = photo;
      return { ...rest, file: fileOf.photos(photo) };
    }),
    hours: wing.hours,
    notes: wing.notes,
  };
  return new Map([[WING_FILE, jsonBytes(described)], ...files]);
}

/**
 * The record as a ZIP archive: see `archive-files.ts` for what is in it.
 *
 * The manifest, first in the archive, lists every file with its size and CRC-32, as the archive itself does. That finds damage
 * on the way, and what is missing; it is no protection against someone who changes the archive on purpose.
 *
 * @param written the present instant
 */
export function writeArchive(records: WingRecords, written: string): Uint8Array {
  const files = new Map<string, Uint8Array>();
  for (const wing of records.wings)
    for (const [name, bytes] of filesOf(wing)) files.set(`${wingFolder(wing)}/${name}`, bytes);
  const manifest: Manifest = {
    format: ARCHIVE_FORMAT,
    version: RECORD_VERSION,
    written,
    entries: [...files].map(([path, bytes]) => ({
      path,
      size: bytes.length,
      crc32: crc32(bytes).toString(16).padStart(8, "0"),
    })),
  };
  const zippable: Zippable = { [MANIFEST]: [jsonBytes(manifest), { level: PACKED }] };
  for (const [path, bytes] of files)
    zippable[path] = [bytes, { level: path.includes("/photos/") ? UNPACKED : PACKED }];
  return zipSync(zippable, { mtime: NO_TIME });
}
