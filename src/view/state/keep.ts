/** The user's own files, kept in this browser so that nothing entered is lost on reload. */
import type { CheckFrame } from "../../readings/index.ts";

export interface KeptFile {
  readonly name: string;
  readonly text: string;
}

/** Readings as they were brought; a sheet carries the answers to the frame's questions. */
export type KeptReadings = KeptFile & { readonly frame: CheckFrame | undefined };

/** The user's own wing as it was brought: a plan, and what there is of readings, readings after the work, and the bench's book. */
export interface Own {
  readonly plan: KeptFile;
  readonly readings: KeptReadings | undefined;
  readonly after?: KeptReadings | undefined;
  readonly book?: KeptFile | undefined;
}

const PLACE = "linewright.own";

/** The part of Storage that is used here. */
export type Shelf = Pick<Storage, "getItem" | "setItem" | "removeItem">;

/** @returns false where the browser refused (no room, or storage switched off) */
export function keepOwn(shelf: Shelf | undefined, own: Own): boolean {
  try {
    if (shelf === undefined) return false;
    shelf.setItem(PLACE, JSON.stringify(own));
    return true;
  } catch {
    return false;
  }
}

/** What was kept, or undefined where there is nothing, or nothing that can be read. */
export function keptOwn(shelf: Shelf | undefined): Own | undefined {
  try {
    const text = shelf?.getItem(PLACE);
    if (text === null || text === undefined) return undefined;
    const own = JSON.parse(text) as Partial<Own> | null;
    if (typeof own?.plan?.text !== "string" || typeof own.plan.name !== "string") return undefined;
    const sound = <T extends KeptFile>(file: T | undefined): T | undefined =>
      typeof file?.text === "string" && typeof file.name === "string" ? file : undefined;
    return {
      plan: own.plan,
      readings: sound(own.readings),
      after: sound(own.after),
      book: sound(own.book),
    };
  } catch {
    return undefined;
  }
}

/** The browser's shelf, or undefined where it denies one. */
export function browserShelf(): Shelf | undefined {
  try {
    return globalThis.localStorage;
  } catch {
    return undefined;
  }
}
