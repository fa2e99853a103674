/** Left against right, where both sides are spelled out. Unequal sides are allowed, so these are warnings. */
import { type Key, say } from "../words/index.ts";
import type { Cascade } from "./cascade.ts";
import type { Problem, Row, Side } from "./model.ts";
import type { PlanLine, PlanTab } from "./schema.ts";
import { called, listed, millimetres, problem } from "./wording.ts";

/** Lengths of mirror partners that differ by no more than this count as equal [mm]. */
const EQUAL_WITHIN_MM = 0.5;

type Cascades = Readonly<Record<Side, Cascade>> & {
  /** Ids of lines without a length on either side: these aren't compared by it. */
  readonly assumed: ReadonlySet<string>;
};

const opposite = (side: Side): Side => (side === "left" ? "right" : "left");

/** A line or tab that the other side lacks; a whole row that it lacks is one warning. */
function unpaired(cascades: Cascades, side: Side): readonly Problem[] {
  const here = cascades[side];
  const there = cascades[opposite(side)];
  const place = { where: `sides.${side}`, side };
  const found: Problem[] = [];
  const rowsThere = new Set<Row>([...there.lines.values()].map(({ item }) => item.row));
  const rowsLacking = new Map<Row, string[]>();
  for (const [id, { item, index }] of here.lines) {
    if (there.lines.has(id)) continue;
    if (!rowsThere.has(item.row)) {
      rowsLacking.set(item.row, [...(rowsLacking.get(item.row) ?? []), id]);
      continue;
    }
    found.push(
      problem(
        "warning",
        `${place.where}.lines[${index}]`,
        id,
        say("plan.line.alone", { name: called(place, "line", id), other: opposite(side), id }),
        say("plan.alone.fix", { other: opposite(side) }),
      ),
    );
  }
  for (const [row, ids] of rowsLacking) {
    found.push(
      problem(
        "warning",
        `${place.where}.lines`,
        ids[0],
        say("plan.row.alone", { row, side, ids: listed(ids) }),
        say("plan.row.alone.fix", { other: opposite(side) }),
      ),
    );
  }
  for (const [id, { item, index }] of here.tabs) {
    if (there.tabs.has(id) || !there.lines.has(item.line)) continue;
    found.push(
      problem(
        "warning",
        `${place.where}.tabs[${index}]`,
        id,
        say("plan.tab.alone", { name: called(place, "tab", id), other: opposite(side), id }),
        say("plan.alone.fix", { other: opposite(side) }),
      ),
    );
  }
  return found;
}

function lineDifferences(left: PlanLine, right: PlanLine, lengthAssumed: boolean): readonly string[] {
  const found: string[] = [];
  const differs = (what: Key, a: string, b: string): void => {
    if (a !== b) found.push(say("plan.differs", { what: say(what), left: a, right: b }));
  };
  if (!lengthAssumed && Math.abs(left.lengthMm - right.lengthMm) > EQUAL_WITHIN_MM) {
    differs("plan.field.length", millimetres(left.lengthMm), millimetres(right.lengthMm));
  }
  const takeUp = (line: PlanLine): number => line.loop?.takeUpMm ?? 0;
  if (Math.abs(takeUp(left) - takeUp(right)) > EQUAL_WITHIN_MM) {
    differs("plan.field.take-up", millimetres(takeUp(left)), millimetres(takeUp(right)));
  }
  differs("plan.field.material", left.material, right.material);
  differs("plan.field.row", left.row, right.row);
  differs("plan.field.hangs-on", left.hangsOn, right.hangsOn);
  return found;
}

function tabDifferences(left: PlanTab, right: PlanTab): readonly string[] {
  const found: string[] = [];
  const differs = (what: Key, a: string | number | undefined, b: string | number | undefined): void => {
    const shown = (value: string | number | undefined): string | number => value ?? say("plan.not-given");
    if (a !== b) found.push(say("plan.differs", { what: say(what), left: shown(a), right: shown(b) }));
  };
  differs("plan.field.rib", left.rib, right.rib);
  differs("plan.field.row", left.row, right.row);
  differs("plan.field.chord-fraction", left.chordFraction, right.chordFraction);
  differs("plan.field.end-of", left.line, right.line);
  return found;
}

function unequal(cascades: Cascades): readonly Problem[] {
  const found: Problem[] = [];
  const remedy = say("plan.unequal.fix");
  for (const [id, { item }] of cascades.left.lines) {
    const partner = cascades.right.lines.get(id);
    if (partner === undefined) continue;
    const differences = lineDifferences(item, partner.item, cascades.assumed.has(id));
    if (differences.length === 0) continue;
    found.push(
      problem(
        "warning",
        `sides.right.lines[${partner.index}]`,
        id,
        say("plan.line.unequal", { id, differences: listed(differences) }),
        remedy,
      ),
    );
  }
  for (const [id, { item }] of cascades.left.tabs) {
    const partner = cascades.right.tabs.get(id);
    if (partner === undefined) continue;
    const differences = tabDifferences(item, partner.item);
    if (differences.length === 0) continue;
    found.push(
      problem(
        "warning",
        `sides.right.tabs[${partner.index}]`,
        id,
        say("plan.tab.unequal", { id, differences: listed(differences) }),
        remedy,
      ),
    );
  }
  return found;
}

/** All warnings of the two sides against each other. */
export function sideProblems(cascades: Cascades): readonly Problem[] {
  return [...unpaired(cascades, "left"), ...unpaired(cascades, "right"), ...unequal(cascades)];
}
