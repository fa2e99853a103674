/** The fields of the form beside a draft's text: what stands in them, and the statement that each writes. */
import type { Draft } from "../../plan/draft/index.ts";
import { quoted } from "../../plan/draft/words.ts";
import { headed, statementsIn, withStatement } from "./build-statements.ts";

export interface Strap {
  readonly id: string;
  /** As typed; empty where the draft doesn't say. */
  readonly lengthMm: string;
}

export interface Form {
  readonly name: string;
  readonly size: string;
  readonly kind: "paraglider" | "paramotor" | undefined;
  readonly lightest: string;
  readonly heaviest: string;
  readonly from: "riser" | "maillon" | undefined;
  readonly tension: string;
  readonly straps: readonly Strap[];
}

/** Fields that are a statement of their own. */
export type PlainField = "name" | "size" | "kind" | "from" | "tension";

export function formOf(draft: Draft, text: string): Form {
  const statements = statementsIn(text);
  const body = (head: string): string => statements.find((each) => each.head === head)?.body ?? "";
  const weight = /^(.*?)\s*(?:(?:-|–|\bto\b)\s*(.*?)\s*(?:kg)?)?$/u.exec(body("weight"));
  const given = new Map((draft.source.risers ?? []).map(({ id, lengthMm }) => [id, lengthMm]));
  return {
    name: body("name"),
    size: body("size"),
    kind: draft.source.wing?.kind,
    lightest: weight?.[1] ?? "",
    heaviest: weight?.[2] ?? "",
    from: draft.source.reference?.from,
    tension: body("tension"),
    straps: draft.rig.risers.map(({ id }) => ({ id, lengthMm: given.get(id)?.toString() ?? "" })),
  };
}

/** The text with one field as given; an empty one takes the statement out. */
export function withField(text: string, field: PlainField, value: string): string {
  const plain = value.replace(/[\r\n]+/gu, " ");
  return withStatement(text, headed(field), plain.trim() === "" ? undefined : `${field}: ${plain}`).text;
}

/** The text with the range of all-up weight; while only one end is given the statement says so, and the draft asks for the other. */
export function withWeight(text: string, lightest: string, heaviest: string): string {
  const [min, max] = [lightest.trim(), heaviest.trim()];
  const body = max === "" ? min : `${min}-${max}`;
  return withStatement(text, headed("weight"), body === "" ? undefined : `weight: ${body}`).text;
}

/** The text with one strap's length; the other straps as they are. */
export function withStrap(text: string, straps: readonly Strap[], id: string, lengthMm: string): string {
  const next = straps.map((strap) => (strap.id === id ? { id, lengthMm: lengthMm.trim() } : strap));
  const none = next.every((strap) => strap.lengthMm === "");
  const body = next.map((strap) => `${quoted(strap.id)}${strap.lengthMm === "" ? "" : ` ${strap.lengthMm}`}`);
  // Names without lengths say nothing, unless maillons refer to them.
  const keep = !none || statementsIn(text).some(({ head }) => head === "maillons");
  return withStatement(text, headed("risers"), keep ? `risers: ${body.join(", ")}` : undefined).text;
}
