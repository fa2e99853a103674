/** The order list: lines to be made anew, each with its mirror twin, merged into items. SI units. */
import { cautionShort } from "../diagnosis/caution.ts";
import { plainMm, trimmed } from "../diagnosis/wording.ts";
import { type Datum, type Line, linesByKey, type Row, SIDES, type Side, type Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { fileNameOf, kindFromName, kindName, PLAIN } from "./kinds.ts";
import { type LineTrace, lineName, sayList, sayUpperEnd, tierWord, traceLine, withTwins } from "./trace.ts";

/** What a length in an order comes from. */
export type LengthBasis =
  /** the plan gives it for this line */
  | "specified"
  /** the plan gives only totals, and a typical cascade divided them */
  | "assumed"
  /** the old line's, measured */
  | "old line"
  /** chosen so that the paths above land with their neighbours */
  | "neighbours";

/** A length other than the plan's, for one line. */
export interface OtherLength {
  readonly lengthM: number;
  readonly basis: "old line" | "neighbours";
  /** Tension that it holds at, where it isn't the plan's reference tension [N]. */
  readonly tensionN?: number | undefined;
}

export interface OrderChoices {
  /** Lines of which only this one is wanted though it has a twin. */
  readonly alone?: ReadonlySet<string> | undefined;
  /** Line key → length to order instead of the plan's. */
  readonly lengths?: ReadonlyMap<string, OtherLength> | undefined;
}

/** One or two equal lines. */
export interface OrderItem {
  readonly lineKeys: readonly string[];
  /** The plan's name. */
  readonly name: string;
  readonly sides: readonly Side[];
  readonly quantity: number;
  readonly row: Row;
  readonly tier: "lower" | "middle" | "upper";
  readonly materialId: string;
  readonly fibre: string | undefined;
  readonly diameterM: number;
  /** At `tensionN`, from eye to eye, before a loop takes any up [m]. */
  readonly lengthM: number;
  readonly lengthBasis: LengthBasis;
  readonly tensionN: number;
  /** `eye on the bar of maillon A, 4.5 mm thick`, `eye on line AL1`. */
  readonly lowerEnd: string;
  /** Which lines or tabs join there. */
  readonly upperEnd: string;
  readonly colour: string | undefined;
  /** The loop that the plan specifies, in words; undefined where the line isn't on a maillon. It isn't part of the line. */
  readonly loop: string | undefined;
}

/** Plain data, to be printed as it is. */
export interface OrderList {
  readonly wing: string;
  readonly size: string | undefined;
  readonly referenceTensionN: number;
  readonly from: Datum;
  readonly items: readonly OrderItem[];
  /** How many lines in all. */
  readonly quantity: number;
  /** What the lengths mean, for whoever makes the lines. */
  readonly notes: readonly string[];
  /** What to think over before the list is sent. */
  readonly warnings: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * The order list for some lines, in the plan's order. Each comes with its mirror twin, as pairs keep the wing symmetric
 * (common practice, no source), unless it's wanted alone, which is warned of. Left and right are one item of two where all
 * that is ordered agrees, else an item each, which is told.
 *
 * @throws RangeError for a key that the wing doesn't have, or a length that isn't above 0
 */
export function orderList(wing: Wing, lineKeys: Iterable<string>, choices: OrderChoices = {}): OrderList {
  const { alone = new Set<string>(), lengths = new Map<string, OtherLength>() } = choices;
  const chosen = new Set(lineKeys);
  const lines = linesByKey(wing);
  for (const key of [...chosen, ...alone, ...lengths.keys()])
    if (!lines.has(key)) throw new RangeError(`The wing "${wing.name}" has no line ${key}.`);
  for (const [key, { lengthM }] of lengths)
    if (!(lengthM > 0))
      throw new RangeError(`Got a length of ${lengthM} m for ${key}; above 0 was expected.`);

  const ordered = new Set([
    ...chosen,
    ...withTwins(
      wing,
      [...chosen].filter((key) => !alone.has(key)),
    ),
  ]);
  const items: OrderItem[] = [];
  for (const line of wing.lines) {
    if (!ordered.has(line.key)) continue;
    const item = itemOf(wing, line, lengths.get(line.key));
    const at = items.findIndex((other) => makesOne(other, item));
    const other = items[at];
    if (other === undefined) items.push(item);
    else
      items[at] = {
        ...other,
        lineKeys: [...other.lineKeys, ...item.lineKeys],
        sides: SIDES.filter((side) => side === line.side || other.sides.includes(side)),
        quantity: other.quantity + 1,
      };
  }
  // Twins that differ stand one after the other.
  const place = new Map<string, number>();
  for (const { name } of items) if (!place.has(name)) place.set(name, place.size);
  items.sort((a, b) => (place.get(a.name) ?? 0) - (place.get(b.name) ?? 0));
  return {
    wing: wing.name,
    size: wing.size,
    referenceTensionN: wing.reference.tensionN,
    from: wing.reference.from,
    items,
    quantity: ordered.size,
    notes: notesOf(wing, items),
    warnings: warningsOf(lines, ordered, items),
    cautions: [cautionShort(), say("workshop.order.caution")],
  };
}

function itemOf(wing: Wing, line: Line, other: OtherLength | undefined): OrderItem {
  const trace = traceLine(wing, line.key);
  const material = wing.materials.find(({ id }) => id === line.materialId);
  if (material === undefined) throw new Error(`no material "${line.materialId}" in the wing`);
  const onMaillon = line.hangsOn.kind === "maillon";
  return {
    lineKeys: [line.key],
    name: line.id,
    sides: [line.side],
    quantity: 1,
    row: line.row,
    tier: tierWord(line),
    materialId: material.id,
    fibre: material.fibre,
    diameterM: material.diameterM,
    lengthM: other?.lengthM ?? line.lengthM,
    lengthBasis: other?.basis ?? (line.lengthAssumed ? "assumed" : "specified"),
    tensionN: other?.tensionN ?? wing.reference.tensionN,
    lowerEnd: sayFixing(trace),
    upperEnd: say("workshop.order.end.upper", { what: sayUpperEnd(trace) }),
    colour: line.colour,
    loop: onMaillon ? sayLoop(line) : undefined,
  };
}

/** How the lower end is made and what it is fixed to. */
function sayFixing({ below, foot }: LineTrace): string {
  const [next] = below;
  if (next !== undefined) return say("workshop.order.end.line", { line: next.id });
  if (foot.kind === "pulley") return say("workshop.order.end.brake");
  const { maillonId: maillon, barDiameterM } = foot;
  return barDiameterM === undefined
    ? say("workshop.order.end.maillon", { maillon })
    : say("workshop.order.end.bar", { maillon, bar: plainMm(barDiameterM, 1) });
}

/** A loop's name as the plan has it; where it is what files call one of our kinds, in the language set. */
function sayLoopName(name: string): string {
  const kind = kindFromName(name);
  return kind !== undefined && fileNameOf(kind.id) === name ? kindName(kind) : name;
}

function sayLoop({ loopName, loopTakeUpM }: Line): string {
  const name = loopName === undefined ? undefined : sayLoopName(loopName);
  if (loopTakeUpM === 0) return name ?? kindName(PLAIN);
  const takeUp = plainMm(loopTakeUpM);
  return name === undefined
    ? say("workshop.order.loop.unnamed", { takeUp })
    : say("workshop.order.loop.take-up", { loop: name, takeUp });
}

/** Whether two items are one of more pieces: all that whoever makes the line needs is the same. */
function makesOne(one: OrderItem, other: OrderItem): boolean {
  const told = ({ lineKeys: _, sides: __, quantity: ___, lengthM, ...rest }: OrderItem): string =>
    JSON.stringify({ ...rest, lengthUm: Math.round(lengthM * 1e6) });
  return told(one) === told(other);
}

function notesOf(wing: Wing, items: readonly OrderItem[]): readonly string[] {
  const { tensionN, from, note } = wing.reference;
  const named = (basis: LengthBasis): string =>
    sayList([...new Set(items.filter((item) => item.lengthBasis === basis).map(({ name }) => name))]);
  const has = (basis: LengthBasis): boolean => items.some((item) => item.lengthBasis === basis);
  return [
    say("workshop.order.note.lengths", { tension: trimmed(tensionN, 3) }),
    ...items
      .filter((item) => item.tensionN !== tensionN)
      .map(({ name, tensionN: own }) =>
        say("workshop.order.note.tension", { name, tension: trimmed(own, 3) }),
      ),
    ...(has("assumed") ? [say("workshop.order.note.assumed", { names: named("assumed") })] : []),
    ...(has("old line") ? [say("workshop.order.note.old", { names: named("old line") })] : []),
    ...(has("neighbours") ? [say("workshop.order.note.neighbours", { names: named("neighbours") })] : []),
    say("workshop.order.note.from", { from }),
    ...(note === undefined ? [] : [note]),
  ];
}

function warningsOf(
  lines: ReadonlyMap<string, Line>,
  ordered: ReadonlySet<string>,
  items: readonly OrderItem[],
): readonly string[] {
  const single: string[] = [];
  const none: string[] = [];
  for (const key of ordered) {
    const line = lines.get(key) as Line;
    if (line.mirrorKey === undefined) none.push(lineName(line));
    else if (!ordered.has(line.mirrorKey)) single.push(lineName(line));
  }
  const names = [...new Set(items.map(({ name }) => name))];
  const unequal = names.flatMap((name) => {
    const both = items.filter((item) => item.name === name);
    const [one, other] = both;
    if (one === undefined || other === undefined) return [];
    if (one.lengthM === other.lengthM) return [say("workshop.order.unlike", { name })];
    return [
      say("workshop.order.differ", {
        name,
        one: one.sides[0] as Side,
        oneLength: plainMm(one.lengthM, 1),
        other: other.sides[0] as Side,
        otherLength: plainMm(other.lengthM, 1),
      }),
    ];
  });
  return [
    ...single.map((name) => say("workshop.order.alone", { name })),
    ...none.map((name) => say("workshop.twin.none", { name })),
    ...unequal,
  ];
}
