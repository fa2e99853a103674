/** What changed since the version before, in words: whose, which field, was and is. */
import type { EditChange } from "../../plan/edit-diff.ts";
import { valueAt } from "../../plan/edit-steps.ts";
import { say, signedLength } from "../../words/index.ts";
import { type Column, FACT_GRIDS, LIST_GRIDS, SETTING_COLUMNS } from "./edit-columns.ts";
import { textOf, type ValueKind, type Vocabulary } from "./edit-values.ts";

export interface ChangeText {
  readonly who: string;
  readonly what: string;
  readonly was: string;
  readonly is: string;
  /** How much a length grew or shrank; undefined for anything else. */
  readonly by: string | undefined;
}

interface Told {
  readonly label: string;
  readonly kind: ValueKind;
  readonly unit?: string | undefined;
  readonly vocabulary?: Vocabulary | undefined;
}

function fieldOf({ list, field }: EditChange): Told {
  const same = (one: { readonly field: readonly (string | number)[] }): boolean =>
    one.field.join() === field.join();
  if (list === undefined) {
    for (const { facts } of Object.values(FACT_GRIDS)) {
      const found = (facts as readonly Omit<Column, "width">[]).find(same);
      if (found !== undefined) return { ...found, label: say(found.label) };
    }
    return { label: field.join("."), kind: "text" };
  }
  if (field[0] === "strapChangesMm")
    return { label: say("edit.field.strapChange", { riser: String(field[1]) }), kind: "length" };
  const columns: readonly Column[] = list === "settings" ? SETTING_COLUMNS : LIST_GRIDS[list].columns;
  const found = columns.find(same);
  if (found === undefined) return { label: field.join("."), kind: "text" };
  return { ...found, label: field[0] === "id" ? say("edit.change.name") : say(found.label) };
}

function figure(value: unknown, { kind, unit, vocabulary }: Told): string {
  const text = textOf(value, kind, vocabulary);
  if (text === "") return say("edit.change.none");
  return unit === undefined || typeof value !== "number" ? text : say("edit.change.withUnit", { text, unit });
}

/** One change as a row of a table tells it. */
export function changeText(change: EditChange): ChangeText {
  const { kind, list, half, id, before, after } = change;
  const who = say("edit.change.who", { list: list ?? "wing", id, half: half ?? "mirrored" });
  if (kind !== "changed") {
    const length = valueAt(kind === "added" ? after : before, ["lengthMm"]);
    const told = typeof length === "number" ? textOf(length, "length") : id;
    return {
      who,
      what: say("edit.change.kind", { kind: kind === "sides apart" ? "apart" : kind }),
      was: kind === "removed" ? told : "",
      is: kind === "added" ? told : "",
      by: undefined,
    };
  }
  const told = fieldOf(change);
  const grown =
    told.kind === "length" && typeof before === "number" && typeof after === "number"
      ? signedLength((after - before) / 1000, 1)
      : undefined;
  return { who, what: told.label, was: figure(before, told), is: figure(after, told), by: grown };
}
