/** What a heading of a table of rows and tab numbers means, in English, German and French. */
import type { Row, Side } from "../../plan/index.ts";
import { unitsIn } from "../headings.ts";
import { readUnit, type Unit } from "../numbers.ts";

/** Which lengths a column holds. */
export type Holds = "readings" | "specified" | "difference";
export type Level = "lower" | "middle" | "upper";

export interface Heading {
  readonly row: Row | undefined;
  readonly side: Side | "both" | undefined;
  readonly unit: Unit | undefined;
  readonly holds: Holds | undefined;
  /** Of lines by themselves: where in the cascade. */
  readonly level: Level | undefined;
  readonly repeat: number | undefined;
  /** The column of the tabs' numbers. */
  readonly isNumber: boolean;
  readonly isNote: boolean;
}

const words = (text: string): ReadonlySet<string> => new Set(text.split(" "));

const ROW_WORDS: readonly (readonly [Row, ReadonlySet<string>])[] = [
  ["A", words("a")],
  ["B", words("b")],
  ["C", words("c")],
  ["D", words("d")],
  [
    "tip",
    words("tip tips wingtip stab stabs stabi stabilo stabilos stabilisator stabilisateur stabiliser st s t"),
  ],
  [
    "brake",
    words("brake brakes br bremse bremsen frein freins k f steuerleine steuerleinen commande commandes"),
  ],
];
/** Words for a side, beside rows: "D" is also a row, so it is tried as one first. */
export const SIDE_WORDS: readonly (readonly [Side | "both", ReadonlySet<string>])[] = [
  ["left", words("left l links linke linker linkes gauche g li")],
  ["right", words("right r rechts rechte rechter rechtes droite droit d re dr")],
  ["both", words("both beide beidseitig deux symmetric symmetrisch symetrique")],
];
const HOLDS: readonly (readonly [Holds, ReadonlySet<string>])[] = [
  [
    "specified",
    words(
      "specified specification spec specs nominal soll sollwert sollwerte sollmass sollmasse sollange sollangen theor theorique theoriques theoretical factory target consigne plan manual handbuch manuel prescrit prescrite vorgabe reference",
    ),
  ],
  [
    "difference",
    words(
      "difference differences diff deviation deviations abweichung abweichungen ecart ecarts delta δ differenz",
    ),
  ],
  [
    "readings",
    words(
      "reading readings measured measurement measurements ist istwert istwerte gemessen messung messwert messwerte mesure mesures mesuree mesurees actual reel releve",
    ),
  ],
];
const LEVELS: readonly (readonly [Level, ReadonlySet<string>])[] = [
  ["lower", words("lower main mains stamm stammleine stammleinen unten basse basses bas bottom")],
  ["middle", words("middle mid mittel mittlere mitte gabel gabeln intermediaire intermediaires inter")],
  ["upper", words("upper top oben obere galerie galerieleine galerieleinen haut haute hautes")],
];
const NUMBER = words("no nr num number nummer numero n° nº position pos rib rippe nervure point punkt");
const NOTE = words("note notes comment comments remark remarks bemerkung bemerkungen remarque remarques");
/** Say nothing more. */
const BESIDE = words(
  "row rows reihe reihen ebene rang rangee rangees ligne lignes line lines leine leinen suspente suspentes side seite cote in of the value values wert werte valeur length lengths lange langen longueur longueurs total path paths tab tabs measure",
);

const plainOf = (text: string): string =>
  text.normalize("NFKD").replace(/\p{M}/gu, "").replace(/ß/gu, "ss").toLowerCase();

/**
 * A heading's meaning, or undefined where a word in it isn't understood: never a guess. `split` says whether
 * short words such as "AL" are a row and a side: see {@link pairedSides}.
 */
export function readHeading(
  text: string,
  split: ReadonlyMap<string, readonly string[]> = new Map(),
): Heading | undefined {
  const plain = plainOf(text);
  const isSign = /^\s*#\s*$/u.test(plain);
  const tokens: readonly string[] = (plain.match(/\p{L}+°?|[nδ]°/gu) ?? []).flatMap(
    (token) => split.get(token) ?? [token],
  );
  const figures = plain.match(/\d+/gu) ?? [];
  if (figures.length > 1 || /[+=]|\d[.,]\d/u.test(plain)) return undefined;
  const units = unitsIn(plain, tokens);
  const unit = units[0];
  const rest = tokens.filter((token) => readUnit(token) === undefined && !BESIDE.has(token));
  if (units.length > 1 || (rest.length === 0 && figures.length > 0 && tokens.length === 0)) return undefined;

  const taken = takeRowAndSide(rest);
  if (taken === undefined) return undefined;
  const { row, side, left } = taken;
  let holds: Holds | undefined;
  let level: Level | undefined;
  let isNumber = isSign;
  let isNote = false;
  for (const token of left) {
    const meant = HOLDS.find(([, known]) => known.has(token))?.[0];
    const high = LEVELS.find(([, known]) => known.has(token))?.[0];
    if (meant !== undefined) {
      // "Measured difference" is a difference, "target difference" too.
      holds = holds === undefined || holds === meant || meant === "difference" ? meant : holds;
    } else if (high !== undefined && level === undefined) level = high;
    else if (NUMBER.has(token)) isNumber = true;
    else if (NOTE.has(token)) isNote = true;
    else return undefined;
  }
  const repeat = figures[0] === undefined ? undefined : Number(figures[0]);
  // "A1" names a tab, "A left 2" a repeat.
  if (row !== undefined && repeat !== undefined && side === undefined && holds === undefined)
    return undefined;
  return { row, side, unit, holds, level, repeat, isNumber, isNote };
}

/** One row and one side at most; "D" and the like go to the side only where another word is the row. */
function takeRowAndSide(
  tokens: readonly string[],
):
  | { readonly row: Row | undefined; readonly side: Heading["side"]; readonly left: readonly string[] }
  | undefined {
  const rowOf = (token: string): Row | undefined => ROW_WORDS.find(([, known]) => known.has(token))?.[0];
  const sideOf = (token: string): Heading["side"] => SIDE_WORDS.find(([, known]) => known.has(token))?.[0];
  const rows = tokens.filter((token) => rowOf(token) !== undefined);
  const onlyRows = rows.filter((token) => sideOf(token) === undefined);
  const chosen = onlyRows[0] ?? rows[0];
  const left: string[] = [];
  let row: Row | undefined;
  let side: Heading["side"];
  for (const token of tokens) {
    if (token === chosen && row === undefined) row = rowOf(token);
    else {
      const meant = sideOf(token);
      if (meant !== undefined) {
        if (side !== undefined && side !== meant) return undefined;
        side = meant;
      } else if (rowOf(token) !== undefined) {
        // "Brake K", "stabilo S": the same row said twice.
        if (row !== undefined && rowOf(token) !== row) return undefined;
        if (chosen !== undefined && rowOf(chosen) !== rowOf(token)) return undefined;
      } else left.push(token);
    }
  }
  return { row, side, left };
}

/**
 * Headings such as AL, AR, BL, BR that write row and side together: only where both sides of a row stand in the
 * table, since "BR" alone is short for brake.
 */
export function pairedSides(texts: readonly string[]): ReadonlyMap<string, readonly string[]> {
  const known = new Set(texts.flatMap((text) => plainOf(text).match(/\p{L}+/gu) ?? []));
  const paired = new Map<string, readonly string[]>();
  const pairs = [
    ["l", "r"],
    ["g", "d"],
  ] as const;
  for (const name of ROW_WORDS.flatMap(([, names]) => [...names]).filter((each) => each.length <= 2)) {
    for (const [left, right] of pairs) {
      if (known.has(name + left) && known.has(name + right))
        for (const side of [left, right]) paired.set(name + side, [name, side]);
      if (known.has(left + name) && known.has(right + name))
        for (const side of [left, right]) paired.set(side + name, [side, name]);
    }
  }
  return paired;
}

/** The unit that a title or a footnote states for the whole table, as in "all lengths in mm". */
export function unitInText(text: string): Unit | undefined {
  const plain = plainOf(text);
  const tokens = plain.match(/\p{L}+/gu) ?? [];
  const found = tokens.flatMap((token, place) => {
    const unit = readUnit(token);
    if (unit === undefined || token === "in") return [];
    // A single "m" is a letter of many things: only where it stands as a unit.
    const stands = /[[(]\s*m\s*[\])]/u.test(plain) || ["in", "en"].includes(tokens[place - 1] ?? "");
    return unit === "m" && !stands ? [] : [unit];
  });
  return new Set(found).size === 1 ? found[0] : undefined;
}

/** What a title or a sheet's name says that the table holds; undefined where it says nothing or both. */
export function holdsInText(text: string): Exclude<Holds, "difference"> | undefined {
  const tokens = plainOf(text).match(/\p{L}+/gu) ?? [];
  const said = HOLDS.filter(
    ([holds, known]) => holds !== "difference" && tokens.some((token) => known.has(token)),
  );
  const holds = said.length === 1 ? said[0]?.[0] : undefined;
  return holds === "difference" ? undefined : holds;
}
