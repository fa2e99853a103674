/** What a column of a table of readings is, from its heading. */
import { readUnit, UNITS, type Unit } from "./numbers.ts";
import type { NameKind } from "./targets.ts";

export type Role = NameKind | "left" | "right" | "side" | "value" | "unit" | "repeat" | "note";

export interface Column {
  readonly index: number;
  /** As the file has it, for messages. */
  readonly title: string;
  readonly role: Role;
  /** Unit in the heading. */
  readonly unit: Unit | undefined;
}

/** The columns whose headings are understood. */
export function readHeadings(titles: readonly string[]): readonly Column[] {
  return titles.flatMap((title, index) => {
    const meaning = readHeading(title);
    return meaning === undefined ? [] : [{ index, title: title.trim(), ...meaning }];
  });
}

const words = (text: string): ReadonlySet<string> => new Set(text.split(" "));

/**
 * Without accents, in lower case. Short forms and German and French words for the sides, since instruments
 * write them.
 */
const WORDS = {
  tab: words("tab tabs aufhangung lasche attache"),
  line: words("line lines leine suspente"),
  name: words("name nom point id"),
  left: words("left l links linke gauche"),
  right: words("right r rechts rechte droite droit"),
  side: words("side seite cote"),
  value: words(
    "value values reading readings length measured measurement wert mesure mesuree mesures gemessen messwert istwert ist lange longueur",
  ),
  unit: words("unit units einheit unite"),
  repeat: words("repeat repeats repetition"),
  note: words("note notes comment comments remark remarks bemerkung remarque"),
} as const satisfies Record<Role, ReadonlySet<string>>;

/** Words that may stand beside a role's own without changing it. */
const BESIDE: Partial<Record<Role, readonly Role[]>> = {
  tab: ["name"],
  line: ["name"],
  left: ["side", "value", "repeat"],
  right: ["side", "value", "repeat"],
  value: ["repeat"],
};
const ROLES = [
  "left",
  "right",
  "tab",
  "line",
  "name",
  "side",
  "value",
  "unit",
  "repeat",
  "note",
] as const satisfies readonly Role[];

/** The units that a heading names. "in" means inches in brackets or at the end, else the word: "left, in cm". */
export function unitsIn(plain: string, tokens: readonly string[]): readonly Unit[] {
  const metric = UNITS.filter((unit) => tokens.includes(unit));
  const inches =
    /[[(]\s*in\.?\s*[\])]|[^\s].*\sin\s*$/u.test(plain) ||
    tokens.some((token) => token !== "in" && readUnit(token) === "in");
  return inches ? [...metric, "in"] : metric;
}

/**
 * A heading's meaning: every word in it must be understood, so that "left deviation" or "left specified" is
 * never taken for a reading. Units and numbers of repeats may stand anywhere: "left 2 [mm]", "L (m)", "reading,
 * mm".
 */
function readHeading(title: string): { readonly role: Role; readonly unit: Unit | undefined } | undefined {
  const plain = title.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  const tokens: readonly string[] = plain.match(/\p{L}+/gu) ?? [];
  const units: readonly Unit[] = unitsIn(plain, tokens);
  const rest = tokens.filter((token) => readUnit(token) === undefined);
  if (units.length > 1) return undefined;
  const unit = units[0];
  if (rest.length === 0) return unit === undefined ? undefined : { role: "value", unit };
  const role = ROLES.find((each) => rest.some((token) => WORDS[each].has(token)));
  if (role === undefined) return undefined;
  const allowed: readonly Role[] = [role, ...(BESIDE[role] ?? [])];
  return rest.every((token) => allowed.some((each) => WORDS[each].has(token))) ? { role, unit } : undefined;
}
