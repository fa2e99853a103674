/** Kinds of loop: how an eye is hitched on a maillon's bar, and which of them a plan's or a person's words mean. */
import { type Key, length, say } from "../words/index.ts";
import type { LoopKind } from "./model.ts";

/** Begins the id of a kind that only its plan, or the person, knows by name. */
const GIVEN = "given:";

/** How our kinds are written in files, in every language. */
type FileName = "plain eye" | "one extra turn" | "girth hitch" | "two extra turns";

interface OurKind extends LoopKind {
  readonly id: "plain" | "turn" | "girth" | "two-turns";
}

export const PLAIN: OurKind = { id: "plain", turns: 0, girth: false };
const TURN: OurKind = { id: "turn", turns: 1, girth: false };
// The eye drawn through itself lies round the bar one full turn more than a plain eye does: see take-up.ts.
const GIRTH: OurKind = { id: "girth", turns: 1, girth: true };
const TWO_TURNS: OurKind = { id: "two-turns", turns: 2, girth: false };

/** The kinds whose take-up the geometry tells, by rising take-up on any usual bar. */
export const LOOP_KINDS: readonly LoopKind[] = [PLAIN, TURN, GIRTH, TWO_TURNS];

const WORDS: Readonly<Record<OurKind["id"], { readonly file: FileName; readonly said: Key }>> = {
  plain: { file: "plain eye", said: "workshop.kind.plain" },
  turn: { file: "one extra turn", said: "workshop.kind.turn" },
  girth: { file: "girth hitch", said: "workshop.kind.girth" },
  "two-turns": { file: "two extra turns", said: "workshop.kind.two-turns" },
};

/** Names of our kinds as files have them. */
export const FILE_NAMES: readonly FileName[] = Object.values(WORDS).map(({ file }) => file);

/** Whether only a name is known of a kind: then `turns` and `girth` say nothing, and there is no estimate. */
export function isGiven(kind: Pick<LoopKind, "id">): boolean {
  return kind.id.startsWith(GIVEN);
}

const wordsOfKind = (id: string) => (Object.hasOwn(WORDS, id) ? WORDS[id as OurKind["id"]] : undefined);

const oneSpaced = (text: string): string => text.normalize("NFC").replace(/\s+/gu, " ").trim();

/** A kind of its own for a name that means none of ours: `given:<name>`, spaces put in order, letters as they are. */
export function givenKind(name: string): LoopKind {
  return { id: `${GIVEN}${oneSpaced(name)}`, turns: 0, girth: false };
}

/** The kind with this id; undefined where it is neither one of ours nor `given:` with a name. */
export function loopKind(id: string): LoopKind | undefined {
  const known = LOOP_KINDS.find((kind) => kind.id === id);
  if (known !== undefined || !id.startsWith(GIVEN)) return known;
  const kind = givenKind(id.slice(GIVEN.length));
  return kind.id === GIVEN ? undefined : kind;
}

/** Behind the figure in the name of a kind of which a plan gives nothing but the take-up. */
const OF_TAKE_UP: "mm of take-up" = "mm of take-up";
const NAMELESS = new RegExp(`^(\\d+(?:\\.(\\d+))?) ${OF_TAKE_UP}$`, "u");

/** A kind's name in the language set; one that only its plan or the person knows by name is called as they call it. */
export function kindName({ id }: Pick<LoopKind, "id">): string {
  const ours = wordsOfKind(id);
  if (ours !== undefined) return say(ours.said);
  const name = isGiven({ id }) ? id.slice(GIVEN.length) : id;
  const [, takeUpMm, decimals = ""] = NAMELESS.exec(name) ?? [];
  return takeUpMm === undefined
    ? name
    : say("workshop.kind.take-up", { takeUp: length(Number(takeUpMm) / 1000, decimals.length) });
}

const CASES: Readonly<Record<OurKind["id"], string>> = {
  plain: "plain",
  turn: "turn",
  girth: "girth",
  "two-turns": "twoTurns",
};

/** A kind's name to stand behind "with", inflected as the language wants it; undefined for no loop at all. */
export function kindAfterWith(kind: Pick<LoopKind, "id"> | undefined): string {
  if (kind === undefined) return say("workshop.kind.with", { kind: "none", name: "" });
  const { id } = kind;
  const ours = wordsOfKind(id) === undefined ? "other" : CASES[id as OurKind["id"]];
  return say("workshop.kind.with", { kind: ours, name: kindName(kind) });
}

/** Words alone: lower case, accents off (ö is o, œ is oe), whatever isn't a letter or figure a space. */
function wordsOf(name: string): string {
  return name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/œ/gu, "oe")
    .replace(/ß/gu, "ss")
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

/** Whole names, as `wordsOf` leaves them. English, German, French; an article or "with" in front is taken off before. */
const PLAIN_NAMES = [
  /plain( eye| loop)?/,
  /no (loop|extra turns?)/,
  /none/,
  /without (a )?(loop|extra turns?)/,
  /0( extra turns?)?/,
  /(einfach(e|es)? )?(auge|ose)/,
  /(ohne|keine?) (schlaufe|zusatzwindung|zusatzliche windung)/,
  /(un )?(oeil|oeillet)( simple)?/,
  /sans (boucle|tour supplementaire)/,
];
const GIRTH_NAMES = [
  /girth( hitch(ed)?)?/,
  /lark ?s? ?head( hitch)?/,
  /larks head/,
  /cow hitch/,
  /ankerstich/,
  /buchtknoten/,
  /(noeud (de )?)?tete d ?alouette/,
  /noeud d ?alouette/,
];
const EXTRA = "(extra|additional|further|more|zusatzliche[rn]?|weitere[rn]?|supplementaires?)";
const TURN_WORD = "(turns?|wraps?|windung(en)?|umschlage?|schlage?|torns?|tours?)";
const FULL = "((full|round|complete|voller?|volle|ganze[rn]?) )?";
/** What may stand behind: where the turn goes. */
const AROUND =
  /( (a?round|um|autour)( of)?( the| den?| das| de la| du)?( bar| maillon| stange| bugel| schakel| barre))?/
    .source;
const MORE_TOURS = /tours? (complets? )?(supplementaires?|de plus|en plus)/.source;
const EXTRA_TURN = [
  `${FULL}${EXTRA} ${FULL}${TURN_WORD}${AROUND}`,
  `(extra|zusatz)(windung(en)?|umschlage?|schlage?|torns?)${AROUND}`,
  `${MORE_TOURS}${AROUND}`,
];
const ONE = /(one|a|an|single|1|1 x|1x|ein|eine|einen|einer|un|une)/.source;
const TWO = /(two|double|2|2 x|2x|zwei|doppelte[rn]?|deux)/.source;
// A round turn by itself is the sailor's: once round and on, half a turn and a full one in all.
const ROUND_TURN = [/(one |a |1 )?round turn/, /(ein )?rundtorn/, /(un )?tour mort/];

const sources = (names: readonly RegExp[]): readonly string[] => names.map(({ source }) => source);
const pattern = (names: readonly string[]): RegExp => new RegExp(`^(with )?(${names.join("|")})$`, "u");
const counted = (count: string): readonly string[] =>
  EXTRA_TURN.flatMap((turn) => [`${count} ${turn}`, ...(count === ONE ? [turn] : [])]);

const MEANINGS: readonly (readonly [LoopKind, RegExp])[] = [
  [PLAIN, pattern(sources(PLAIN_NAMES))],
  [TURN, pattern([...counted(ONE), ...sources(ROUND_TURN)])],
  [GIRTH, pattern(sources(GIRTH_NAMES).map((name) => `(an? |ein |une? )?${name}`))],
  [TWO_TURNS, pattern(counted(TWO))],
];

/**
 * The kind that a name in free text means: one of ours by its id or name, by usual words for it in English, German or
 * French, or else a kind of its own, `given:<name>`. A name is taken for ours only where every word of it fits: "girth
 * hitch with one extra turn" is neither of the two, and "two turns" doesn't say whether the eye's own half turn counts.
 * Undefined for a blank name.
 */
export function kindFromName(name: string): LoopKind | undefined {
  const clean = oneSpaced(name);
  if (clean === "") return undefined;
  const byId = loopKind(clean);
  if (byId !== undefined) return byId;
  const words = wordsOf(clean);
  return MEANINGS.find(([, meant]) => meant.test(words))?.[0] ?? givenKind(clean);
}

/** How a kind is written in a file, in every language alike, to be read back by `kindFromName` as the same kind. */
export function fileNameOf(kindId: string): string {
  const ours = wordsOfKind(kindId);
  if (ours !== undefined) return ours.file;
  const kind = loopKind(kindId);
  if (kind === undefined) return kindId;
  const name = kind.id.slice(GIVEN.length);
  return kindFromName(name)?.id === kind.id ? name : kind.id;
}

/**
 * The kind that a plan specifies for a line: by the loop's name; the plain eye where the plan gives no loop. A take-up
 * without a name, or one under a plain eye's name (which takes up nothing by definition), makes a kind of its own.
 *
 * @param loopName as the plan writes it
 * @param takeUpM as the plan gives it, 0 for none [m]
 */
export function specifiedKind(loopName: string | undefined, takeUpM: number): LoopKind {
  const kind = loopName === undefined ? undefined : kindFromName(loopName);
  if (kind === undefined) {
    if (takeUpM === 0) return PLAIN;
    return givenKind(`${Number((takeUpM * 1000).toFixed(3))} ${OF_TAKE_UP}`);
  }
  return kind.id === PLAIN.id && takeUpM !== 0 ? givenKind(loopName as string) : kind;
}
