/** A line's cascade laid out to be drawn: tabs on top, what it carries, the line, what it hangs on, the maillon and riser. */
import { type Line, linesByKey, type Wing } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import type { LineTrace } from "../../workshop/index.ts";

export interface DiagramLine {
  readonly key: string;
  readonly id: string;
  readonly part: "line" | "above" | "below" | "beside";
  /** Across, 0 to 1; levels from the riser's 0 upwards. */
  readonly from: readonly [across: number, level: number];
  readonly to: readonly [across: number, level: number];
}

export interface DiagramEnd {
  readonly name: string;
  readonly at: readonly [across: number, level: number];
}

export interface TraceDiagram {
  readonly levels: number;
  readonly lines: readonly DiagramLine[];
  readonly tabs: readonly DiagramEnd[];
  readonly foot: DiagramEnd;
  /** The riser below a maillon; undefined for a brake line. */
  readonly riser: DiagramEnd | undefined;
}

/** Level of the maillon or pulley. */
const FOOT = 1;

/** Lays a trace out: tabs evenly across, each line's upper end in the middle of the tabs that it bears. */
export function traceDiagram(wing: Wing, trace: LineTrace): TraceDiagram {
  const index = linesByKey(wing);
  const tabs = trace.tabs.toSorted((a, b) => a.rib - b.rib);
  const places = new Map(tabs.map(({ key }, at) => [key, (at + 0.5) / tabs.length]));
  const tiers = Math.max(trace.line.tier, ...trace.above.map(({ tier }) => tier));
  const acrossOf = (key: string): number => {
    const over = wing.paths.flatMap(({ lineKeys, tabKey }) =>
      lineKeys.includes(key) ? (places.get(tabKey) ?? []) : [],
    );
    return over.reduce((sum, across) => sum + across, 0) / Math.max(1, over.length);
  };
  const middle = acrossOf(trace.line.key);
  const top = (line: Line): number => (line.carriesLines.length === 0 ? FOOT + tiers : FOOT + line.tier);
  const drawn = (line: Line, part: DiagramLine["part"]): DiagramLine => {
    const on = line.hangsOn.kind === "line" ? index.get(line.hangsOn.lineKey) : undefined;
    const across = (of: Line): number =>
      part === "above" && of.key !== trace.line.key ? acrossOf(of.key) : middle;
    return {
      key: line.key,
      id: line.id,
      part,
      from: on === undefined ? [middle, FOOT] : [across(on), top(on)],
      to: [across(line), top(line)],
    };
  };
  const own = trace.below.at(-1) ?? trace.line;
  const others = trace.onFoot.filter(({ key }) => key !== own.key);
  const before = Math.ceil(others.length / 2);
  const stubs = others.map((line, at): DiagramLine => {
    // Left and right of the line's own way, fanned out.
    const place =
      at < before ? (at + 0.5) / (2 * before + 1) : 1 - (others.length - at - 0.5) / (2 * before + 1);
    return { key: line.key, id: line.id, part: "beside", from: [middle, FOOT], to: [place, FOOT + 0.8] };
  });
  const { foot } = trace;
  return {
    levels: FOOT + tiers,
    lines: [
      ...stubs,
      ...trace.below.map((line) => drawn(line, "below")),
      ...trace.above.map((line) => drawn(line, "above")),
      drawn(trace.line, "line"),
    ],
    tabs: tabs.map(({ id, key }) => ({ name: id, at: [places.get(key) as number, FOOT + tiers] })),
    foot: {
      name:
        foot.kind === "maillon"
          ? say("replace.diagram.maillon", { maillon: foot.maillonId })
          : say("replace.diagram.brake"),
      at: [middle, FOOT],
    },
    riser:
      foot.kind === "maillon"
        ? { name: say("replace.diagram.riser", { riser: foot.riserId }), at: [middle, 0] }
        : undefined,
  };
}
