/** Rules of the cascade in one half: every tab comes down to a maillon or pulley, and nothing hangs loose. */
import { type Cascade, tabsAbove } from "./cascade.ts";
import type { Problem } from "./model.ts";
import { type PlanHalf, type PlanLine, PULLEY } from "./schema.ts";
import { called, didYouMean, type HalfPlace, listed, nearest, problem } from "./wording.ts";

const MOST_TIERS = 4;

/** ` Tabs A1 and A2 have no path to a maillon because of it.` */
function cutOff(tabs: readonly string[]): string {
  if (tabs.length === 0) return "";
  return ` ${tabs.length === 1 ? "Tab" : "Tabs"} ${listed(tabs)} ${tabs.length === 1 ? "has" : "have"} no path to a maillon because of it.`;
}

function doubles(place: HalfPlace, cascade: Cascade): readonly Problem[] {
  const lines = cascade.doubleLines.map(({ id, indices }) =>
    problem(
      "error",
      `${place.where}.lines[${indices[1]}].id`,
      id,
      `${called(place, "line", id)} is given ${indices.length} times (lines ${indices.map((at) => at + 1).join(", ")} of the list); an id stands for one line.`,
      "Rename or remove all but one of them.",
    ),
  );
  const tabs = cascade.doubleTabs.map(({ id, indices }) =>
    problem(
      "error",
      `${place.where}.tabs[${indices[1]}].id`,
      id,
      `${called(place, "tab", id)} is given ${indices.length} times (tabs ${indices.map((at) => at + 1).join(", ")} of the list); an id stands for one tab.`,
      "Rename or remove all but one of them.",
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
          `${called(place, "line", id)} hangs on "${item.hangsOn}", which is neither a maillon nor a line of this half.${cutOff(tabsAbove(cascade, [id]))}`,
          `Name what its lower end is fixed to; the maillons are ${listed([...maillonIds])}.${didYouMean(names)}`,
        ),
      );
    } else if (foot === "ambiguous" && !ambiguous.has(item.hangsOn)) {
      ambiguous.add(item.hangsOn);
      found.push(
        problem(
          "error",
          where,
          id,
          `${called(place, "line", id)} hangs on "${item.hangsOn}", and both a maillon and a line are called that; one was expected.`,
          `Rename the maillon or the line ${item.hangsOn}; or, if the maillon is meant, give the lines on it tier 1.`,
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
        ? `${called(place, "line", first)} hangs on itself`
        : `${called(place, "line", first)} hangs on itself through others: ${[...circle, first].join(" → ")}`;
    found.push(
      problem(
        "error",
        `${place.where}.lines[${index}].hangsOn`,
        first,
        `${way}; a chain that ends at a maillon was expected.${cutOff(tabsAbove(cascade, circle))}`,
        `Correct hangsOn of ${circle.length === 1 ? "this line" : `one of ${listed(circle)}`}, the lowest of them, to its maillon.`,
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
        `${called(place, "tab", id)} is the end of line "${item.line}", and this half has no such line; so it has no path to a maillon.`,
        `Name the line that ends at this tab, or add line ${item.line}.${didYouMean(names)}`,
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
        `${called(place, "line", id)} carries nothing: no line hangs on it and no tab is its end.`,
        "Add the tab or the lines at its upper end, or remove the line.",
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
          `${called(place, "line", id)} is of the fifth tier (${cascade.chains.get(id)?.join(" → ")}); at most four were expected.`,
          "Join the lines that run one into the other without a fork, or correct hangsOn.",
        ),
      );
    } else if (depth <= MOST_TIERS && depth !== item.tier && !followsFromBelow(item)) {
      found.push(
        problem(
          "error",
          `${place.where}.lines[${index}].tier`,
          id,
          `${called(place, "line", id)} is given tier ${item.tier}, but hangs on ${depth === 1 ? (item.hangsOn === PULLEY ? "the pulley" : `maillon ${item.hangsOn}`) : `line ${item.hangsOn} of tier ${depth - 1}`}; tier ${depth} was expected.`,
          `Set the tier to ${depth}, or correct hangsOn.`,
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
      if (line !== undefined) return `${one} (which hangs on ${line.item.hangsOn})`;
      return tab === undefined
        ? `${one} (which the plan doesn't have)`
        : `${one} (a tab at the end of ${tab.item.line})`;
    });
    const parts = [
      ...(absent.length > 0 ? [`it lists ${listed(saying)}`] : []),
      ...(unlisted.length > 0 ? [`it leaves out ${listed(unlisted)}`] : []),
    ];
    found.push(
      problem(
        "error",
        `${place.where}.lines[${index}].carries`,
        id,
        `${called(place, "line", id)} says what it carries, and that disagrees with what hangs there: ${parts.join("; ")}.`,
        "Correct carries, or hangsOn and line of those it names; carries may be left out.",
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
      `A line is called "${PULLEY}", which stands for the brake's pulley.`,
      "Give the line another id.",
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
