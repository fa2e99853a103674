/** Reads an archive of everything, damaged or not: what is whole, and what isn't by name. */
import { strFromU8 } from "fflate";
import type { Problem } from "../plan/index.ts";
import { failure, warning } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import { MANIFEST, type Manifest, manifestSchema, placeOf } from "./archive-files.ts";
import { type WingFiles, wingFromFiles } from "./archive-wing.ts";
import { mergeWings } from "./merge.ts";
import { NO_RECORDS, RECORD_VERSION, type WingRecord, type WingRecords } from "./model.ts";
import { MOST_PHOTO, MOST_TEXT } from "./schema.ts";
import { type ZipFile, type ZipLimits, zipParts } from "./zip-parts.ts";

/** More than twenty wings over twenty years need; an archive that asks for more is refused rather than unpacked. */
export const ARCHIVE_LIMITS: ZipLimits = {
  mostFiles: 20_000,
  mostBytes: Math.max(MOST_TEXT, MOST_PHOTO),
  mostBytesInAll: 1_000_000_000,
};

export interface ReadArchive {
  /** All that is whole; empty where nothing is. */
  readonly whole: WingRecords;
  /** One for each thing that isn't, `where` naming its file in the archive. */
  readonly problems: readonly Problem[];
}

/**
 * What can be read of an archive.
 *
 * Each file stands for itself: a damaged one costs no other. Where the directory at the end is lost (cut off), files are found
 * by their own headers; where the manifest is lost, by their names; where a wing's description is lost, its plans, checks,
 * loop books and photos are taken with what their names say.
 *
 * Checksums find damage; they are no protection against someone who changes the archive on purpose. Never throws.
 */
export function readArchive(bytes: Uint8Array, limits: ZipLimits = ARCHIVE_LIMITS): ReadArchive {
  const parts = zipParts(bytes, limits);
  if (parts.files.length === 0) {
    const none = failure(say("record.archive"), say("record.archive.none"), say("record.archive.none.fix"));
    return { whole: NO_RECORDS, problems: [none] };
  }
  const manifest = manifestOf(parts.files);
  if (manifest.newer !== undefined) return { whole: NO_RECORDS, problems: [manifest.newer] };
  const problems: Problem[] = [...manifest.problems];
  if (!parts.directory)
    problems.push(
      warning(say("record.archive"), undefined, say("record.archive.cut"), say("record.archive.cut.fix")),
    );
  if (parts.tooMany)
    problems.push(
      failure(
        say("record.archive"),
        say("record.archive.many", { most: limits.mostFiles }),
        say("record.archive.foreign.fix"),
      ),
    );

  const listed = new Map(manifest.value?.entries.map((entry) => [entry.path, entry]));
  const files = new Map<string, Uint8Array>();
  const crcs = new Map<string, string>();
  const broken = new Map<string, ZipFile["fault"]>();
  for (const file of parts.files) {
    const path = pathOf(file, listed);
    if (path === MANIFEST) continue;
    if (file.bytes === undefined || file.crc === undefined) broken.set(path, file.fault);
    else {
      files.set(path, file.bytes);
      crcs.set(path, file.crc.toString(16).padStart(8, "0"));
    }
  }
  for (const [path, fault] of broken)
    if (!files.has(path) && (listed.size === 0 || listed.has(path) || placeOf(path) !== undefined))
      problems.push(faulty(path, fault, limits));
  for (const [path, { crc32: crc, size }] of listed) {
    const found = files.get(path);
    if (found === undefined) {
      if (!broken.has(path)) problems.push(missing(path));
    } else if (found.length !== size || crcs.get(path) !== crc)
      problems.push(
        warning(path, undefined, say("record.archive.changed"), say("record.archive.changed.fix")),
      );
  }

  const wings = new Map<
    string,
    { readonly files: Map<string, Uint8Array>; readonly wingName: string; readonly wingId: string }
  >();
  for (const [path, content] of files) {
    const place = placeOf(path);
    if (
      place === undefined ||
      (listed.size > 0 && !listed.has(path) && !placeInListed(place.folder, listed))
    ) {
      problems.push(
        warning(path, undefined, say("record.archive.foreign"), say("record.archive.foreign.fix")),
      );
      continue;
    }
    const wing = wings.get(place.folder) ?? {
      files: new Map(),
      wingName: place.wingName,
      wingId: place.wingId,
    };
    wing.files.set(path.slice(place.folder.length + 1), content);
    wings.set(place.folder, wing);
  }
  const told = new Set(problems.map(({ where }) => where));
  const byId = new Map<string, WingRecord[]>();
  for (const [folder, wing] of wings) {
    const read = wingFromFiles({ folder, ...wing } satisfies WingFiles, told);
    problems.push(...read.problems);
    byId.set(read.wing.id, [...(byId.get(read.wing.id) ?? []), read.wing]);
  }
  return {
    whole: {
      version: RECORD_VERSION,
      wings: [...byId.values()]
        .flatMap((states) => (states.length === 1 ? states : [mergeWings(states)]))
        .sort((a, b) => (a.id < b.id ? -1 : 1)),
    },
    problems,
  };
}

/** Whether the manifest has other files of this folder. */
function placeInListed(folder: string, listed: ReadonlyMap<string, unknown>): boolean {
  for (const path of listed.keys()) if (path.startsWith(`${folder}/`)) return true;
  return false;
}

/** Of the names that a file may have, the one that the manifest has, or else one that an archive's file may have. */
function pathOf({ names }: ZipFile, listed: ReadonlyMap<string, unknown>): string {
  return (
    names.find((name) => name === MANIFEST || listed.has(name)) ??
    names.find((name) => placeOf(name) !== undefined) ??
    (names[0] as string)
  );
}

interface FoundManifest {
  readonly value: Manifest | undefined;
  readonly problems: readonly Problem[];
  /** Where the archive is of a version that isn't known: then nothing is read. */
  readonly newer: Problem | undefined;
}

function manifestOf(files: readonly ZipFile[]): FoundManifest {
  const file = files.find(({ names, bytes }) => names.includes(MANIFEST) && bytes !== undefined);
  const value = file?.bytes === undefined ? undefined : jsonOf(file.bytes);
  const shaped = manifestSchema.safeParse(value);
  if (!shaped.success) {
    const there = files.some(({ names }) => names.includes(MANIFEST));
    const lost = warning(
      MANIFEST,
      undefined,
      say("record.archive.manifest", { found: there ? "damaged" : "missing" }),
      say("record.archive.manifest.fix"),
    );
    return { value: undefined, problems: [lost], newer: undefined };
  }
  const { version } = shaped.data;
  if (version === RECORD_VERSION) return { value: shaped.data, problems: [], newer: undefined };
  const message = say("record.version", { found: version, known: RECORD_VERSION });
  return { value: undefined, problems: [], newer: failure(MANIFEST, message, say("record.version.fix")) };
}

function jsonOf(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(strFromU8(bytes));
  } catch {
    return undefined;
  }
}

function faulty(path: string, fault: ZipFile["fault"], limits: ZipLimits): Problem {
  switch (fault) {
    case "large":
      return failure(
        path,
        say("record.archive.large", { most: Math.round(limits.mostBytes / 1e6) }),
        say("record.archive.large.fix"),
      );
    case "unknown packing":
      return failure(path, say("record.archive.packing"), say("record.archive.packing.fix"));
    default:
      return failure(path, say("record.archive.damaged"), say("record.archive.lost.fix"));
  }
}

function missing(path: string): Problem {
  return failure(path, say("record.archive.missing"), say("record.archive.lost.fix"));
}
