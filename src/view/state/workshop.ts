/** What the workshop's screens are told of the document, its book, and what is tried. */
import { defaultChoices, type LoopChoices } from "../../workshop/index.ts";
import type { Document } from "./document.ts";

/** The choices that the loops are planned by: the book's, or those to begin with. */
export function loopChoicesOf({ book, wing, loops }: Pick<Document, "book" | "wing" | "loops">): LoopChoices {
  return book.choices ?? defaultChoices(wing, loops);
}
