/**
 * The files in an archive of everything: `manifest.json`, and for each wing a folder `wings/<name>_<id>` with `wing.json` and the
 * plan versions, checks, loop books and photos as files of their own, so that they can be read without this program.
 */
import * as z from "zod";
import { type KeptBook, type KeptCheck, type Photo, type PlanVersion, UNKNOWN_TIME } from "./model.ts";
import { dayInText } from "./schema.ts";

export const ARCHIVE_FORMAT = "linewright-record";
export const WING_FORMAT = "linewright-wing";
export const MANIFEST = "manifest.json";
export const WING_FILE = "wing.json";

/** Lists whose items have a file each, by their folder. */
export const FOLDERS = ["plans", "checks", "books", "photos"] as const;
export type Folder = (typeof FOLDERS)[number];

const MEDIA: Readonly<Record<string, string>> = {
  "image/jpeg": "jpg",
  "image/png": "png",
  "image/webp": "webp",
  "image/heic": "heic",
  "image/gif": "gif",
  "image/avif": "avif",
};

export const manifestSchema = z.object({
  format: z.literal(ARCHIVE_FORMAT),
  version: z.number().int(),
  /** Instant of writing. */
  written: z.string().optional(),
  entries: z.array(
    z.object({
      path: z.string(),
      size: z.number().int().min(0),
      /** CRC-32 of the file, eight hexadecimal figures. */
      crc32: z.string(),
    }),
  ),
});
export type Manifest = z.infer<typeof manifestSchema>;

/** Letters and figures of a name, for people who look into the archive; what counts is the id behind it. */
function plainName(name: string): string {
  const plain = name
    .normalize("NFKD")
    .replace(/[^A-Za-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 40);
  return plain === "" ? "wing" : plain;
}

export function wingFolder(wing: { readonly id: string; readonly name: { readonly value: string } }): string {
  return `wings/${plainName(wing.name.value)}_${wing.id}`;
}

const dayOf = (instant: string): string => instant.slice(0, 10);

export const fileOf = {
  plans: (plan: PlanVersion): string => `plans/${dayOf(plan.addedAt)}_${plan.id}.json`,
  checks: (check: KeptCheck): string => {
    const day = dayInText(check.text) ?? check.frame?.date ?? dayOf(check.addedAt);
    return `checks/${day}_${check.id}.${/^\s*\{/.test(check.text.replace(/^\uFEFF/, "")) ? "json" : "csv"}`;
  },
  books: (book: KeptBook): string => `books/${dayOf(book.changedAt)}_${book.id}.json`,
  photos: (photo: Photo): string =>
    `photos/${dayOf(photo.addedAt)}_${photo.id}.${Object.hasOwn(MEDIA, photo.type) ? MEDIA[photo.type] : "bin"}`,
} as const;

/** What the name of an archive's file says. */
export interface Place {
  /** The wing's folder, its id, and its name as far as the folder has it. */
  readonly folder: string;
  readonly wingId: string;
  readonly wingName: string;
  /** Undefined for `wing.json`. */
  readonly item:
    | { readonly list: Folder; readonly id: string; readonly day: string; readonly type: string }
    | undefined;
}

const ID = "[A-Za-z0-9][A-Za-z0-9.-]{0,119}";
const WING_PATH = new RegExp(`^(wings/([A-Za-z0-9-]{1,40})_(${ID}))/(.+)$`);
const ITEM_PATH = new RegExp(`^(${FOLDERS.join("|")})/(\\d{4}-\\d{2}-\\d{2})_(${ID})\\.([a-z]+)$`);

/** Undefined for a name that none of an archive's files has. */
export function placeOf(path: string): Place | undefined {
  const [, folder = "", name = "", wingId = "", rest = ""] = WING_PATH.exec(path) ?? [];
  if (folder === "") return undefined;
  const wing = { folder, wingId, wingName: name.replaceAll("-", " ") };
  if (rest === WING_FILE) return { ...wing, item: undefined };
  const [, list = "", day = "", id = "", ending = ""] = ITEM_PATH.exec(rest) ?? [];
  if (list === "") return undefined;
  const type = Object.keys(MEDIA).find((each) => MEDIA[each] === ending) ?? "application/octet-stream";
  return { ...wing, item: { list: list as Folder, id, day, type } };
}

/**
 * The instant of an item of which only the file is left. The day in its name may be a check's own: then it was added later.
 * The last moment of the day, so that a copy that knows better counts as earlier when both are merged.
 */
export function endOfDay(day: string): string {
  const instant = `${day}T23:59:59.999Z`;
  return Number.isNaN(Date.parse(instant)) ? UNKNOWN_TIME : instant;
}
