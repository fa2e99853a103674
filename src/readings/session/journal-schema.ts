/**
 * The journal as it is stored, `linewright-session` version 1: one JSON object to a line, the first one the start. Millimetres and
 * newtons, with the unit in the key; the frame is written as a check file's.
 */

import * as z from "zod";
import { type JsonSchema, jsonSchemaOf, ROWS } from "../../plan/index.ts";
import type { CheckFrame } from "../frame.ts";
import { checkFileSchema } from "../schema.ts";
import { checkFile } from "../write.ts";
import { cleanM } from "./fold.ts";
import type { Entry, Order } from "./model.ts";

export const SESSION_FORMAT = "linewright-session";
export const SESSION_VERSION = 1;

const target = z.strictObject({
  kind: z.enum(["tab", "line"]),
  id: z.string().min(1),
  side: z.enum(["left", "right"]),
});
const row = z.enum(ROWS);
const step = z.strictObject({ ...target.shape, row });
const order = z.strictObject({
  name: z.enum(["rows", "sides", "pairs", "maillons", "own"]),
  steps: z.array(step),
});
const frame = checkFileSchema.omit({ format: true, version: true, readings: true });
const phrase = z.strictObject({
  key: z.string(),
  values: z.record(z.string(), z.string()),
  text: z.string(),
});
const stamped = {
  n: z.int().min(0).describe("Running number of the entry"),
  at: z.iso.datetime().describe("Time of the entry, UTC"),
};
const reading = {
  ...stamped,
  target,
  row,
  typed: z.string().describe("Just as it was typed"),
  mm: z.array(z.number()).describe("Lengths taken from it [mm]; none where it holds no length"),
  taken: z.enum(["last three digits", "centimetres", "metres", "one of several numbers"]).optional(),
  level: z.enum(["fine", "doubtful", "impossible"]),
  reason: phrase.optional(),
};

/** One line of the journal. */
export const journalEntrySchema = z.discriminatedUnion("kind", [
  z.strictObject({
    ...stamped,
    kind: z.literal("start"),
    format: z.literal(SESSION_FORMAT),
    version: z.literal(SESSION_VERSION),
    frame,
    order,
  }),
  z.strictObject({ kind: z.literal("reading"), ...reading }),
  z.strictObject({ kind: z.literal("repeat"), ...reading }),
  z.strictObject({ ...stamped, kind: z.literal("skip"), target }),
  z.strictObject({ ...stamped, kind: z.literal("undo"), takesBack: z.int().min(1) }),
  z.strictObject({ ...stamped, kind: z.literal("note"), about: target.optional(), text: z.string() }),
  z.strictObject({ ...stamped, kind: z.literal("go to"), step }),
  z.strictObject({ ...stamped, kind: z.literal("order"), order }),
  z.strictObject({ ...stamped, kind: z.literal("frame"), frame, fromHere: z.boolean() }),
]);

export type JournalLine = z.infer<typeof journalEntrySchema>;

/** An entry in its stored form. */
export function journalLine(entry: Entry): JournalLine {
  const { n, atMs } = entry;
  const stamp = { n, at: new Date(atMs).toISOString() };
  switch (entry.kind) {
    case "start":
      return {
        ...stamp,
        kind: "start",
        format: SESSION_FORMAT,
        version: SESSION_VERSION,
        frame: storedFrame(entry.frame),
        order: storedOrder(entry.order),
      };
    case "reading":
    case "repeat": {
      const { kind, target, row, typed, valuesM, taken, verdict } = entry;
      const { level, reason } = verdict;
      return {
        ...stamp,
        kind,
        target: { ...target },
        row,
        typed,
        mm: valuesM.map((valueM) => Number((valueM * 1000).toFixed(4))),
        ...(taken === undefined ? {} : { taken }),
        level,
        ...(reason === undefined ? {} : { reason: { ...reason, values: { ...reason.values } } }),
      };
    }
    case "skip":
      return { ...stamp, kind: "skip", target: { ...entry.target } };
    case "undo":
      return { ...stamp, kind: "undo", takesBack: entry.takesBack };
    case "note":
      return {
        ...stamp,
        kind: "note",
        ...(entry.about === undefined ? {} : { about: { ...entry.about } }),
        text: entry.text,
      };
    case "go to":
      return { ...stamp, kind: "go to", step: { ...entry.step.target, row: entry.step.row } };
    case "order":
      return { ...stamp, kind: "order", order: storedOrder(entry.order) };
    case "frame":
      return { ...stamp, kind: "frame", frame: storedFrame(entry.frame), fromHere: entry.fromHere };
  }
}

/** A stored entry as the session wants it. */
export function entryOf(line: JournalLine): Entry {
  const stamp = { n: line.n, atMs: Date.parse(line.at) };
  switch (line.kind) {
    case "start":
      return { ...stamp, kind: "start", frame: frameOf(line.frame), order: orderOf(line.order) };
    case "reading":
    case "repeat": {
      const { kind, target, row, typed, mm, taken, level, reason } = line;
      const valuesM = mm.map((value) => cleanM(value / 1000));
      return { ...stamp, kind, target, row, typed, valuesM, taken, verdict: { level, reason } };
    }
    case "skip":
      return { ...stamp, kind: "skip", target: line.target };
    case "undo":
      return { ...stamp, kind: "undo", takesBack: line.takesBack };
    case "note":
      return { ...stamp, kind: "note", about: line.about, text: line.text };
    case "go to":
      return { ...stamp, kind: "go to", step: stepOf(line.step) };
    case "order":
      return { ...stamp, kind: "order", order: orderOf(line.order) };
    case "frame":
      return { ...stamp, kind: "frame", frame: frameOf(line.frame), fromHere: line.fromHere };
  }
}

type StoredFrame = z.infer<typeof frame>;
type StoredStep = z.infer<typeof step>;

function storedFrame(of: CheckFrame): StoredFrame {
  const { format: _, version: __, readings: ___, ...rest } = checkFile({ ...of, readings: [] });
  return rest;
}

function storedOrder({ name, steps }: Order): z.infer<typeof order> {
  return { name, steps: steps.map((one) => ({ ...one.target, row: one.row })) };
}

function stepOf({ row: of, ...rest }: StoredStep): Order["steps"][number] {
  return { target: rest, row: of };
}

function orderOf({ name, steps }: z.infer<typeof order>): Order {
  return { name, steps: steps.map(stepOf) };
}

function frameOf({ wing, date, tensionN, from, instrument, note }: StoredFrame): CheckFrame {
  const { name, zeroMm, resolutionMm, zeroUncertaintyMm, scaleUncertaintyPpm, ...rest } = instrument ?? {};
  const { tensionUncertaintyN, readingUncertaintyMm } = rest;
  const uncertainty = {
    ...(zeroUncertaintyMm === undefined ? {} : { zeroM: zeroUncertaintyMm / 1000 }),
    ...(scaleUncertaintyPpm === undefined ? {} : { scale: scaleUncertaintyPpm / 1e6 }),
    ...(tensionUncertaintyN === undefined ? {} : { tensionN: tensionUncertaintyN }),
    ...(readingUncertaintyMm === undefined ? {} : { readingM: readingUncertaintyMm / 1000 }),
  };
  return {
    wingName: wing,
    date,
    tensionN,
    from,
    instrumentZeroM: (zeroMm ?? 0) / 1000,
    instrument: name,
    resolutionM: resolutionMm === undefined ? undefined : resolutionMm / 1000,
    ...(Object.keys(uncertainty).length === 0 ? {} : { uncertainty }),
    note,
  };
}

/** JSON Schema of one line of a session's journal. */
export function journalEntryJsonSchema(): JsonSchema {
  return jsonSchemaOf(journalEntrySchema);
}
