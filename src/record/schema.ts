/** The record's shape, version 2: zod schemas of every item, for what is read back from a browser or an archive. */
import * as z from "zod";
import { CHECK_FORMAT, type CheckFrame } from "../readings/index.ts";
import { RECORD_VERSION, type WingRecord, type WingRecords } from "./model.ts";

/** Longest text of a file that is kept [characters]. */
export const MOST_TEXT = 20_000_000;
/** Largest photo that is kept [bytes]. */
export const MOST_PHOTO = 25_000_000;

/** Ids go into the names of an archive's files: no slash, no blank, and no underscore, which stands before them there. */
const id = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9.-]{0,119}$/);
const instant = z.iso.datetime();
const day = z.iso.date();
const name = z.string().min(1).max(300);
const remark = z.string().max(10_000);

const item = { id, changedAt: instant, differsFrom: id.optional() };
const edited = { ...item, earlier: z.array(z.string().max(80)).max(10_000).optional() };
const lasting = { ...item, addedAt: instant, name };
const text = z.string().min(1).max(MOST_TEXT);

const frame = z
  .object({
    wingName: z.string().optional(),
    date: day,
    tensionN: z.number().positive(),
    from: z.enum(["riser", "maillon"]),
    instrumentZeroM: z.number(),
    instrument: z.string().optional(),
    resolutionM: z.number().positive().optional(),
    uncertainty: z
      .object({
        zeroM: z.number().optional(),
        scale: z.number().optional(),
        tensionN: z.number().optional(),
        readingM: z.number().optional(),
      })
      .optional(),
    note: z.string().optional(),
  })
  .transform(
    ({ wingName, instrument, resolutionM, note, uncertainty, ...rest }): CheckFrame => ({
      ...rest,
      wingName,
      instrument,
      resolutionM,
      note,
      ...(uncertainty === undefined ? {} : { uncertainty }),
    }),
  );

/** What an archive describes of an item whose text or bytes are a file of their own. */
export const describedSchemas = {
  plans: z.object({ ...lasting, changed: remark.optional() }),
  checks: z.object({ ...lasting, frame: frame.optional() }),
  books: z.object({ ...edited, name }),
  photos: z.object({ ...lasting, type: z.string().max(100), about: remark.optional() }),
} as const;

/** Items that are whole in themselves. */
export const plainSchemas = {
  notes: z.object({ ...edited, day, text: z.string().max(MOST_TEXT) }),
  hours: z.object({ ...edited, day, totalHours: z.number().min(0).max(1_000_000) }),
} as const;

export const headSchemas = {
  name: z.object({ value: name, changedAt: instant }),
  planInUse: z.object({ value: id, changedAt: instant }),
  nextCheck: z.object({ value: day.nullable(), changedAt: instant }),
} as const;

export const wingRecordSchema = z.object({
  id,
  name: headSchemas.name,
  plans: z.array(describedSchemas.plans.extend({ text })),
  planInUse: headSchemas.planInUse.optional(),
  checks: z.array(describedSchemas.checks.extend({ text })),
  books: z.array(describedSchemas.books.extend({ text })),
  notes: z.array(plainSchemas.notes),
  hours: z.array(plainSchemas.hours),
  photos: z.array(
    describedSchemas.photos.extend({
      bytes: z.instanceof(Uint8Array).refine((bytes) => bytes.length <= MOST_PHOTO),
    }),
  ),
  nextCheck: headSchemas.nextCheck.optional(),
}) satisfies z.ZodType<WingRecord>;

export const wingRecordsSchema = z.object({
  version: z.literal(RECORD_VERSION),
  wings: z.array(wingRecordSchema),
}) satisfies z.ZodType<WingRecords>;

/** What version 1 kept, in the browser's small store: one wing, its files as they were brought. */
const keptFile = z.object({ name: z.string(), text: z.string() });
const keptReadings = keptFile.extend({ frame: frame.optional() });

/** Its parts are looked at one by one: a bad one shall not cost the others. */
export const firstVersionSchemas = {
  plan: keptFile,
  readings: keptReadings,
  after: keptReadings,
  book: keptFile,
} as const;

/** The day that a check's text names: of a check file only. */
export function dayInText(content: string): string | undefined {
  try {
    const { format, date } = JSON.parse(content) as { format?: unknown; date?: unknown };
    return format === CHECK_FORMAT && day.safeParse(date).success ? (date as string) : undefined;
  } catch {
    return undefined;
  }
}
