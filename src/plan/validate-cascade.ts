/** Rules of the cascade in one half: every tab comes down to a maillon or pulley, and nothing hangs loose. */
import { say } from "../words/index.ts";
import { type Cascade, tabsAbove } from "./cascade.ts";
import type { Problem } from "./model.ts";
import { type PlanHalf, type PlanLine, PULLEY } from "./schema.ts";
import { called, didYouMean, type HalfPlace, listed, nearest, problem } from "./wording.ts";

const MOST_TIERS = 4;

/** ` Tabs A1 and A2 have no path to a maillon because of it.` */
function cutOff(tabs: readonly string[]): string {
  if (tabs.length === 0) return "";
  return ` ${say("plan.cut-off", { count: tabs.length, tabs: listed(tabs) })}`;
}

function doubles(place: HalfPlace, cascade: Cascade): readonly Problem[] {
  const lines = cascade.doubleLines.map(({ id, indices }) =>
    problem(
      "error",
      `${place.where}.lines[${indices[1]}].id`,
      id,
      say("plan.line.doubled", {
        name: called(place, "line", id),
        count: indices.length,
        places: indices.map((at) => at + 1).join(", "),
      }),
      say("plan.doubled.fix"),
    ),
  );
  const tabs = cascade.doubleTabs.map(({ id, indices }) =>
    problem(
      "error",
      `${place.where}.tabs[${indices[1]}].id`,
      id,
      say("plan.tab.doubled", {
        name: called(place, "tab", id),
        count: indices.length,
        places: indices.map((at) => at + 1).join(", "),
      }),
      say("plan.doubled.fix"),
    ),
  );
  return [...lines, ...tabs];
}

/** Lines that carry neither a line nor a tab. */
function emptyHanded(cascade: Cascade): readonly string[] {
  return [...cascade.lines.keys()].filter((id) => !cascade.linesOn.has(id) && !cascade.tabsOn.has(id));
}

/**
 * What an unknown name may have meant, best first: the line that lists the orphan in `carries`, else lines of its
 * row that carry nothing yet, else the closest names.
 *
 * @param fits whether the orphan could hang on that line
 */
function guesses(
  name: string,
  orphan: string,
  cascade: Cascade,
  known: readonly string[],
  fits: (line: PlanLine) => boolean,
): readonly string[] {
  const lines = [...cascade.lines.values()].map(({ item }) => item);
  const listers = lines.filter((item) => item.carries?.includes(orphan)).map(({ id }) => id);
  if (listers.length > 0) return listers;
  const empty = emptyHanded(cascade);
  const free = lines.filter((item) => item.id !== orphan && empty.includes(item.id) && fits(item));
  if (free.length > 0) return free.map(({ id }) => id);
  return nearest(
    name,
    known.filter((candidate) => candidate !== orphan),
  );
}

function loose(place: HalfPlace, cascade: Cascade, maillonIds: ReadonlySet<string>): readonly Problem[] {
  const found: Problem[] = [];
  const perhapsMeant = new Set<string>();
  const ambiguous = new Set<string>();
  const lineIds = [...cascade.lines.keys()];
  for (const [id, { item, index }] of cascade.lines) {
    const foot = cascade.footing.get(id)?.kind;
    const where = `${place.where}.lines[${index}].hangsOn`;
    if (foot === "unknown") {
      const names = guesses(
        item.hangsOn,
        id,
        cascade,
        [...maillonIds, ...lineIds, PULLEY],
        (line) => line.row === item.row && line.tier === item.tier - 1,
      );
      for (const name of names) perhapsMeant.add(name);
      found.push(
        problem(
          "error",
          where,
          id,
          say("plan.line.unknown-foot", {
            name: called(place, "line", id),
            foot: item.hangsOn,
            after: cutOff(tabsAbove(cascade, [id])),
          }),
          say("plan.line.unknown-foot.fix", { maillons: listed([...maillonIds]), guess: didYouMean(names) }),
        ),
      );
    } else if (foot === "ambiguous" && !ambiguous.has(item.hangsOn)) {
      ambiguous.add(item.hangsOn);
      found.push(
        problem(
          "error",
          where,
          id,
          say("plan.line.two-feet", { name: called(place, "line", id), foot: item.hangsOn }),
          say("plan.line.two-feet.fix", { foot: item.hangsOn }),
        ),
      );
    }
  }
  for (const name of ambiguous) perhapsMeant.add(name);
  for (const circle of cascade.circles) {
    const first = circle[0] ?? "";
    const index = cascade.lines.get(first)?.index ?? 0;
    const way =
      circle.length === 1
        ? say("plan.line.itself", { name: called(place, "line", first) })
        : say("plan.line.circle", {
            name: called(place, "line", first),
            way: [...circle, first].join(" → "),
          });
    found.push(
      problem(
        "error",
        `${place.where}.lines[${index}].hangsOn`,
        first,
        say("plan.line.endless", { way, after: cutOff(tabsAbove(cascade, circle)) }),
        say("plan.line.endless.fix", { count: circle.length, lines: listed(circle) }),
      ),
    );
  }
  for (const [id, { item, index }] of cascade.tabs) {
    if (cascade.lines.has(item.line)) continue;
    const names = guesses(item.line, id, cascade, lineIds, (line) => line.row === item.row);
    for (const name of names) perhapsMeant.add(name);
    found.push(
      problem(
        "error",
        `${place.where}.tabs[${index}].line`,
        id,
        say("plan.tab.no-line", { name: called(place, "tab", id), line: item.line }),
        say("plan.tab.no-line.fix", { line: item.line, guess: didYouMean(names) }),
      ),
    );
  }
  // A line that an unknown name may have meant isn't reported as carrying nothing: that would follow from it.
  for (const id of emptyHanded(cascade)) {
    if (perhapsMeant.has(id)) continue;
    const index = cascade.lines.get(id)?.index ?? 0;
    found.push(
      problem(
        "error",
        `${place.where}.lines[${index}]`,
        id,
        say("plan.line.bare", { name: called(place, "line", id) }),
        say("plan.line.bare.fix"),
      ),
    );
  }
  return found;
}

function tiers(place: HalfPlace, cascade: Cascade): readonly Problem[] {
  const found: Problem[] = [];
  /** Its tier fits the line below, so the fault lies further down and is told there. */
  const followsFromBelow = (line: PlanLine): boolean =>
    cascade.lines.get(line.hangsOn)?.item.tier === line.tier - 1;
  for (const [id, { item, index }] of cascade.lines) {
    const depth = cascade.chains.get(id)?.length;
    if (depth === undefined) continue;
    if (depth === MOST_TIERS + 1) {
      found.push(
        problem(
          "error",
          `${place.where}.lines[${index}].hangsOn`,
          id,
          say("plan.line.fifth", {
            name: called(place, "line", id),
            way: (cascade.chains.get(id) ?? []).join(" → "),
          }),
          say("plan.line.fifth.fix"),
        ),
      );
    } else if (depth <= MOST_TIERS && depth !== item.tier && !followsFromBelow(item)) {
      found.push(
        problem(
          "error",
          `${place.where}.lines[${index}].tier`,
          id,
          say("plan.line.tier", {
            name: called(place, "line", id),
            tier: item.tier,
            on: depth > 1 ? "line" : item.hangsOn === PULLEY ? "pulley" : "maillon",
            foot: item.hangsOn,
            below: depth - 1,
            depth,
          }),
          say("plan.line.tier.fix", { tier: depth }),
        ),
      );
    }
  }
  return found;
}

function carried(place: HalfPlace, cascade: Cascade): readonly Problem[] {
  const found: Problem[] = [];
  const inCircle = new Set(cascade.circles.flat());
  /** Its own fault is reported already: where it hangs isn't known. */
  const unsettled = (id: string): boolean => {
    const foot = cascade.footing.get(id)?.kind;
    const tab = cascade.tabs.get(id);
    return (
      foot === "unknown" ||
      foot === "ambiguous" ||
      inCircle.has(id) ||
      (tab !== undefined && !cascade.lines.has(tab.item.line))
    );
  };
  for (const [id, { item, index }] of cascade.lines) {
    if (item.carries === undefined) continue;
    const really = [...(cascade.linesOn.get(id) ?? []), ...(cascade.tabsOn.get(id) ?? [])];
    const stated = new Set(item.carries);
    const unlisted = really.filter((one) => !stated.has(one) && !unsettled(one));
    const absent = [...stated].filter((one) => !really.includes(one) && !unsettled(one));
    if (unlisted.length === 0 && absent.length === 0) continue;
    const saying = absent.map((one) => {
      const line = cascade.lines.get(one);
      const tab = cascade.tabs.get(one);
      if (line !== undefined) return say("plan.carries.elsewhere", { id: one, foot: line.item.hangsOn });
      return tab === undefined
        ? say("plan.carries.unknown", { id: one })
        : say("plan.carries.tab", { id: one, line: tab.item.line });
    });
    found.push(
      problem(
        "error",
        `${place.where}.lines[${index}].carries`,
        id,
        say("plan.carries", {
          name: called(place, "line", id),
          how: unlisted.length === 0 ? "lists" : absent.length === 0 ? "omits" : "both",
          listed: listed(saying),
          omitted: listed(unlisted),
        }),
        say("plan.carries.fix"),
      ),
    );
  }
  return found;
}

function reservedName(place: HalfPlace, half: PlanHalf): readonly Problem[] {
  const index = half.lines.findIndex((line) => line.id === PULLEY);
  if (index < 0) return [];
  return [
    problem(
      "error",
      `${place.where}.lines[${index}].id`,
      PULLEY,
      say("plan.line.pulley", { word: PULLEY }),
      say("plan.line.pulley.fix"),
    ),
  ];
}

/** All problems of one half's cascade. What merely follows from another problem isn't listed again. */
export function cascadeProblems(
  place: HalfPlace,
  half: PlanHalf,
  cascade: Cascade,
  maillonIds: ReadonlySet<string>,
): readonly Problem[] {
  return [
    ...doubles(place, cascade),
    ...reservedName(place, half),
    ...loose(place, cascade, maillonIds),
    ...tiers(place, cascade),
    ...carried(place, cascade),
  ];
}
