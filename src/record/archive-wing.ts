/** A wing from the files of its folder in an archive, as far as they are whole. */
import { strFromU8 } from "fflate";
import type * as z from "zod";
import type { Problem } from "../plan/index.ts";
import { failure, warning } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import { endOfDay, type Folder, placeOf, WING_FILE } from "./archive-files.ts";
import { inOrder } from "./edit.ts";
import { UNKNOWN_TIME, type WingRecord } from "./model.ts";
import { describedSchemas, headSchemas, plainSchemas } from "./schema.ts";
import { shapeInto } from "./whole-wing.ts";

/** The whole files of a wing's folder, by their names in it. */
export interface WingFiles {
  readonly folder: string;
  readonly wingId: string;
  /** The wing's name as far as the folder has it. */
  readonly wingName: string;
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/**
 * @param told files about which there is a problem already: none is told twice
 * @returns a wing in any case; what its description says but its files don't have is a problem each
 */
export function wingFromFiles(
  { folder, wingId, wingName, files }: WingFiles,
  told: ReadonlySet<string>,
): { readonly wing: WingRecord; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const described = describedIn(files.get(WING_FILE));
  const where = `${folder}/${WING_FILE}`;
  if (described === undefined) {
    const lost = files.has(WING_FILE) ? say("record.archive.unread") : say("record.archive.undescribed");
    problems.push(warning(where, undefined, lost, say("record.archive.undescribed.fix")));
  }
  const fields = described ?? {};

  const shaped = shapeInto(problems, (path) => `${where}: ${path}`);
  const listOf = (name: string): readonly unknown[] => {
    const list = fields[name];
    return Array.isArray(list) ? list : [];
  };
  const optional = <S extends z.ZodType>(name: string, schema: S): z.output<S> | undefined =>
    fields[name] === undefined ? undefined : shaped([name], fields[name], schema);
  const plain = <S extends z.ZodType>(name: "notes" | "hours", schema: S): readonly z.output<S>[] =>
    listOf(name).flatMap((value, at) => shaped([name, at], value, schema) ?? []);

  const fileOf = new Map<string, { readonly path: string; readonly day: string; readonly type: string }>();
  for (const path of files.keys()) {
    const item = placeOf(`${folder}/${path}`)?.item;
    if (item !== undefined) fileOf.set(`${item.list} ${item.id}`, { path, day: item.day, type: item.type });
  }
  /** Items described, each with its file; then files that no description names. */
  const withFiles = <D extends { readonly id: string }, T>(
    list: Folder,
    schema: z.ZodType<D>,
    join: (item: D, bytes: Uint8Array) => T,
    rebuilt: (id: string, file: { readonly path: string; readonly day: string; readonly type: string }) => D,
  ): readonly T[] => {
    const used = new Set<string>();
    const items = listOf(list).flatMap((value, at): T[] => {
      const item = shaped([list, at], value, schema);
      if (item === undefined) return [];
      const key = `${list} ${item.id}`;
      const file = fileOf.get(key);
      if (file !== undefined && !used.has(key)) {
        used.add(key);
        return [join(item, files.get(file.path) as Uint8Array)];
      }
      const named = (value as { file?: unknown }).file;
      const path = `${folder}/${typeof named === "string" ? named : `${list}/${item.id}`}`;
      if (!told.has(path))
        problems.push(failure(path, say("record.archive.missing"), say("record.archive.lost.fix")));
      return [];
    });
    const others = [...fileOf].flatMap(([key, file]): T[] => {
      if (used.has(key) || !key.startsWith(`${list} `)) return [];
      return [join(rebuilt(key.slice(list.length + 1), file), files.get(file.path) as Uint8Array)];
    });
    return [...items, ...others];
  };
  const lasting = (id: string, { path, day }: { readonly path: string; readonly day: string }) => ({
    id,
    addedAt: endOfDay(day),
    changedAt: UNKNOWN_TIME,
    name: path.slice(path.lastIndexOf("/") + 1),
  });
  const withText = <T extends object>(item: T, bytes: Uint8Array): T & { readonly text: string } => ({
    ...item,
    text: strFromU8(bytes),
  });

  const planInUse = optional("planInUse", headSchemas.planInUse);
  const nextCheck = optional("nextCheck", headSchemas.nextCheck);
  const wing: WingRecord = {
    id: wingId,
    name: optional("name", headSchemas.name) ?? { value: wingName, changedAt: UNKNOWN_TIME },
    ...(planInUse === undefined ? {} : { planInUse }),
    ...(nextCheck === undefined ? {} : { nextCheck }),
    plans: inOrder(withFiles("plans", describedSchemas.plans, withText, lasting)),
    checks: inOrder(withFiles("checks", describedSchemas.checks, withText, lasting)),
    books: inOrder(
      withFiles("books", describedSchemas.books, withText, (id, file) => ({
        id,
        changedAt: UNKNOWN_TIME,
        name: lasting(id, file).name,
      })),
    ),
    photos: inOrder(
      withFiles(
        "photos",
        describedSchemas.photos,
        (item, bytes) => ({ ...item, bytes }),
        (id, file) => ({ ...lasting(id, file), type: file.type }),
      ),
    ),
    notes: inOrder(plain("notes", plainSchemas.notes)),
    hours: inOrder(plain("hours", plainSchemas.hours)),
  };
  return { wing, problems };
}

function describedIn(bytes: Uint8Array | undefined): Readonly<Record<string, unknown>> | undefined {
  if (bytes === undefined) return undefined;
  try {
    const value: unknown = JSON.parse(strFromU8(bytes));
    return typeof value === "object" && value !== null && !Array.isArray(value)
      ? (value as Readonly<Record<string, unknown>>)
      : undefined;
  } catch {
    return undefined;
  }
}
