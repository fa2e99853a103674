/** From what was entered to lines and tabs: names, tiers, ribs, materials, lengths; whatever is wrong by its place. */
import { fixed, say } from "../../words/index.ts";
import type { Problem } from "../model.ts";
import { PULLEY } from "../schema.ts";
import { didYouMean, listed, nearest, problem, rowWord } from "../wording.ts";
import { drawRows, targetsOf } from "./draw-rows.ts";
import type { Draft, OpenLine, Say, SayFaults, Where } from "./model.ts";
import { PATTERNS, patternNamed } from "./patterns.ts";
import { rigOf } from "./rig.ts";
import { setLengths, setNames } from "./set-lengths.ts";
import type { DraftSource } from "./source.ts";
import { setChords, setRibs } from "./tab-places.ts";

/** Diameters by tier where none are given [mm]: the middle of usual ones. Common practice, no source. */
export const USUAL_DIAMETERS_MM: readonly number[] = [1.8, 1.3, 0.9];

/** What a material that is known by its diameter alone is called: `1.8 mm`. */
export function diameterId(mm: number): string {
  return `${mm} mm`;
}

/** Everything in the source, drawn as far as it goes. Never throws. */
export function expand(given: DraftSource, where: Where, earlier: readonly Problem[] = []): Draft {
  const problems: Problem[] = [...earlier];
  const assumed: string[] = [];
  const complain = (
    path: string,
    subject: string | undefined,
    message: string,
    remedy: string,
    offset = 0,
  ): void => {
    problems.push(problem("error", where(path, offset), subject, message, remedy));
  };
  const faults: SayFaults = (path, subject, found) => {
    for (const { at, message, remedy } of found)
      complain(path, subject, say("draft.at", { subject, message }), remedy, at);
  };
  const source = withPattern(given, complain);
  const { lines, tabs } = drawRows(source, faults, complain);

  setRibs(source, tabs, faults, complain, assumed);
  setChords(source, tabs, complain, assumed);
  const targets = targetsOf(lines);
  const each = (
    list: "diameters" | "use" | "colours" | "loops",
    set: (line: OpenLine, index: number) => void,
  ): void => {
    (source[list] ?? []).forEach((entry, index) => {
      for (const word of entry.targets) {
        const found = targets(word);
        if (found.length === 0) {
          const names = lines.map((line) => line.name);
          complain(
            `${list}[${index}]`,
            word,
            say("draft.target", { list, word }),
            say("draft.target.fix", { guess: didYouMean(nearest(word, names)) }),
          );
        }
        for (const line of found) set(line, index);
      }
    });
  };
  each("diameters", (line, index) => {
    line.material = diameterId(byTier(line, source.diameters?.[index]?.mm ?? []));
  });
  const known = new Set((source.materials ?? []).map((material) => material.id));
  each("use", (line, index) => {
    line.material = byTier(line, source.use?.[index]?.materials ?? []);
  });
  (source.use ?? []).forEach(({ materials }, index) => {
    for (const id of materials) {
      if (known.has(id)) continue;
      complain(
        `use[${index}]`,
        id,
        say("draft.material", { id, count: known.size, known: listed([...known]) }),
        say("draft.material.fix", { id, guess: didYouMean(nearest(id, known)) }),
      );
    }
  });
  const bare = lines.filter((line) => line.material === undefined);
  for (const line of bare) {
    line.material = diameterId(byTier(line, USUAL_DIAMETERS_MM));
    line.materialAssumed = true;
  }
  if (bare.length > 0) {
    assumed.push(
      say("draft.assumed.material", {
        rows: listed([...new Set(bare.map((line) => rowWord(line.row)))]),
        diameters: USUAL_DIAMETERS_MM.map((mm) => fixed(mm, 1)).join(", "),
      }),
    );
  }
  each("colours", (line, index) => {
    line.colour = source.colours?.[index]?.colour ?? undefined;
  });
  each("loops", (line, index) => {
    const targeted = source.loops?.[index]?.targets.includes(line.name) === true;
    const atMaillon = line.below === undefined && line.anchor !== PULLEY;
    if (!atMaillon && targeted)
      complain(
        `loops[${index}]`,
        line.name,
        say("draft.loop", { id: line.name, how: line.anchor === PULLEY ? "brake" : "upper" }),
        say("draft.loop.fix"),
      );
    if (atMaillon) line.loop = source.loops?.[index]?.loop ?? undefined;
  });
  setLengths(source, lines, tabs, complain);
  setNames(source, lines, tabs, complain);
  const rig = rigOf(source, lines, where);
  return {
    source,
    lines,
    tabs,
    rig,
    problems: [...problems, ...rig.problems],
    unread: earlier,
    assumed: [...assumed, ...rig.assumed],
    where,
  };
}

/** Of a list from the lowest tier up, what holds for a line; the last one also for lines that end at a tab. */
function byTier<T>(line: OpenLine, list: readonly T[]): T {
  return list[line.tab !== undefined ? list.length - 1 : Math.min(line.tier, list.length) - 1] as T;
}

function withPattern(source: DraftSource, complain: Say): DraftSource {
  if (source.pattern === undefined) return source;
  const pattern = patternNamed(source.pattern);
  if (pattern === undefined) {
    complain(
      "pattern",
      undefined,
      say("draft.pattern", { found: source.pattern, known: listed(PATTERNS.map((each) => each.id)) }),
      say("draft.pattern.fix"),
    );
    return source;
  }
  const own = new Set(source.rows.map((entry) => entry.row));
  const rest = pattern.rows.filter((entry) => !own.has(entry.row));
  const { pattern: _, ...plain } = source;
  return { ...plain, rows: [...source.rows, ...rest] };
}
