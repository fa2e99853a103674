/** Finds lines by what a person types or calls out: a name, a row and side, a tab above, a colour, a material, a tier. */
import { type Line, ROWS, type Row, SIDES, type Tab, type Wing } from "../plan/index.ts";
import { lookUpNames, matchName, type NameLookup } from "../readings/index.ts";
import { type Key, say, type Values } from "../words/index.ts";
import { sideOrder, tierWord } from "./trace.ts";

/** A line that answers a query, and by what. */
export interface FoundLine {
  readonly line: Line;
  /** Its name; the tab that it ends at; a beginning of its name; a tab above it; other words alone. */
  readonly by: "name" | "its tab" | "begins" | "tab above" | "words";
}

/** By how good an answer is, best first. */
const RANKS: readonly FoundLine["by"][] = ["name", "its tab", "begins", "tab above", "words"];

/** Trade words beside the plan's own: English ones count in every language, with those of the language set. */
interface Vocabulary {
  readonly row: ReadonlySet<string>;
  readonly tab: ReadonlySet<string>;
  /** Words that say nothing. */
  readonly line: ReadonlySet<string>;
  readonly rows: ReadonlyMap<string, Row>;
}

function saidWords(key: Key, values?: Values): readonly string[] {
  return say(key, values).toLowerCase().split(/\s+/u);
}

function vocabulary(): Vocabulary {
  return {
    row: new Set(["row", ...saidWords("workshop.find.row")]),
    tab: new Set(["tab", "tabs", ...saidWords("workshop.find.tab")]),
    line: new Set(["line", "lines", ...saidWords("workshop.find.line")]),
    rows: new Map<string, Row>([
      ...["stabilo", ...saidWords("workshop.find.tip")].map((word) => [word, "tip"] as const),
      ...["brakes", ...saidWords("workshop.find.brake")].map((word) => [word, "brake"] as const),
    ]),
  };
}

/**
 * Lines that answer a query, best first, then by row, in the plan's order, left before right. An empty query finds all.
 *
 * Words may stand in any order and all must fit. `tab A3` asks for the lines that carry that tab, `row B` for the row,
 * a row's letter alone too unless a line is called so; names are matched leniently (`a-3`, `A 03`); any other word must
 * begin one of the line's: its name, side, tier ("main" is a lower line), colour, material, fibre, what it hangs on. All
 * but the plan's names may be said in English or in the language set; a row there in one word too (`A-Ebene`).
 */
export function findLines(wing: Wing, query: string): readonly FoundLine[] {
  const lookup = lookUpNames(wing);
  const wanted = parts(query, lookup);
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  const above = new Map<string, Tab[]>(wing.lines.map(({ key }) => [key, []]));
  for (const { lineKeys, tabKey } of wing.paths)
    for (const key of lineKeys) above.get(key)?.push(tabs.get(tabKey) as Tab);
  const order = new Map<string, number>();
  for (const { id } of wing.lines) if (!order.has(id)) order.set(id, order.size);

  const rank = (line: Line): number | undefined => {
    let best = RANKS.length - 1;
    for (const part of wanted) {
      const by = fits(part, line, above.get(line.key) ?? [], lookup);
      if (by === undefined) return undefined;
      best = Math.min(best, RANKS.indexOf(by));
    }
    return best;
  };
  return wing.lines
    .flatMap((line) => {
      const place = rank(line);
      return place === undefined ? [] : [{ line, place }];
    })
    .sort(
      (a, b) =>
        a.place - b.place ||
        // Of the lines under a tab, the one next to it comes first.
        (RANKS[a.place] === "tab above" ? b.line.tier - a.line.tier : 0) ||
        ROWS.indexOf(a.line.row) - ROWS.indexOf(b.line.row) ||
        (order.get(a.line.id) ?? 0) - (order.get(b.line.id) ?? 0) ||
        sideOrder(a.line, b.line),
    )
    .map(({ line, place }) => ({ line, by: RANKS[place] as FoundLine["by"] }));
}

/** A part of a query. */
type Part =
  | { readonly kind: "tab"; readonly name: string }
  | { readonly kind: "row"; readonly row: Row }
  | { readonly kind: "word"; readonly word: string };

function parts(query: string, lookup: NameLookup): readonly Part[] {
  const said = vocabulary();
  const words = query
    .normalize("NFKC")
    .toLowerCase()
    .split(/[\s,;:]+/u)
    .filter((word) => word !== "");
  const rowOf = (word: string): Row | undefined => {
    const [row = word, after = ""] = word.split("-");
    const name = said.row.has(after) ? row : word;
    return said.rows.get(name) ?? ROWS.find((known) => known.toLowerCase() === name);
  };
  const isName = (kind: "tab" | "line", name: string): boolean =>
    SIDES.some((side) => matchName(lookup, kind, side, name).found !== "none");
  /** A name at a place: two words where only both together are one (`A 3`). */
  const nameAt = (at: number, kind: "tab" | "line"): { name: string; length: number } => {
    const [word = "", next] = [words[at], words[at + 1]];
    const joined = `${word}${next ?? ""}`;
    return next !== undefined && /^\d/u.test(next) && isName(kind, joined)
      ? { name: joined, length: 2 }
      : { name: word, length: 1 };
  };
  const found: Part[] = [];
  for (let at = 0; at < words.length; ) {
    const word = words[at] as string;
    const next = words[at + 1];
    const rowNext = next === undefined ? undefined : rowOf(next);
    if (said.tab.has(word) && next !== undefined) {
      const { name, length } = nameAt(at + 1, "tab");
      found.push({ kind: "tab", name });
      at += 1 + length;
    } else if (said.row.has(word) && rowNext !== undefined) {
      found.push({ kind: "row", row: rowNext });
      at += 2;
    } else {
      const { name, length } = nameAt(at, "line");
      const row = length === 1 && !isName("line", name) ? rowOf(name) : undefined;
      if (row !== undefined) found.push({ kind: "row", row });
      else if (!said.line.has(name) || isName("line", name)) found.push({ kind: "word", word: name });
      at += length;
    }
  }
  return found;
}

function fits(part: Part, line: Line, tabs: readonly Tab[], lookup: NameLookup): FoundLine["by"] | undefined {
  if (part.kind === "row") return line.row === part.row ? "words" : undefined;
  const name = part.kind === "tab" ? part.name : part.word;
  const means = (kind: "tab" | "line", id: string): boolean => {
    const match = matchName(lookup, kind, line.side, name);
    return match.found === "one" ? match.id === id : match.found === "several" && match.ids.includes(id);
  };
  const byTab = tabs.some(({ id }) => means("tab", id))
    ? line.carriesTabs.some((key) => tabs.some((tab) => tab.key === key && means("tab", tab.id)))
      ? "its tab"
      : "tab above"
    : undefined;
  if (part.kind === "tab") return byTab;
  if (means("line", line.id)) return "name";
  if (byTab !== undefined) return byTab;
  if (line.id.toLowerCase().startsWith(name)) return "begins";
  return wordsOf(line, lookup).some((word) => word.startsWith(name)) ? "words" : undefined;
}

function wordsOf(line: Line, lookup: NameLookup): readonly string[] {
  const tier = tierWord(line);
  const on = line.hangsOn;
  const maillon = on.kind === "maillon" ? on.maillonId : "";
  const anchor =
    on.kind === "line"
      ? (lookup.lines.get(on.lineKey)?.id ?? "")
      : `${on.kind} ${maillon} ${say("workshop.find.on", { on: on.kind, maillon })}`;
  return [
    line.side,
    line.row,
    tier,
    tier === "lower" ? "main" : "",
    `tier${line.tier}`,
    anchor,
    line.colour ?? "",
    line.materialId,
    lookup.materials.get(line.materialId)?.fibre ?? "",
    say("workshop.find.side", { side: line.side }),
    say("workshop.find.tier", { tier }),
  ]
    .flatMap((words) => words.toLowerCase().split(/\s+/u))
    .filter((word) => word !== "");
}
