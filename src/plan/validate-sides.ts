/** Left against right, where both sides are spelled out. Unequal sides are allowed, so these are warnings. */
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
        `${called(place, "line", id)} has no partner: the ${opposite(side)} side has no line ${id}.`,
        `Add it on the ${opposite(side)} or correct its name, unless the sides are meant to differ.`,
      ),
    );
  }
  for (const [row, ids] of rowsLacking) {
    found.push(
      problem(
        "warning",
        `${place.where}.lines`,
        ids[0],
        `Row ${row} is on the ${side} only: lines ${listed(ids)} have no partner.`,
        `Add the row on the ${opposite(side)}, unless the sides are meant to differ.`,
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
        `${called(place, "tab", id)} has no partner: the ${opposite(side)} side has no tab ${id}.`,
        `Add it on the ${opposite(side)} or correct its name, unless the sides are meant to differ.`,
      ),
    );
  }
  return found;
}

function lineDifferences(left: PlanLine, right: PlanLine, lengthAssumed: boolean): readonly string[] {
  const found: string[] = [];
  const differs = (what: string, a: string, b: string): void => {
    if (a !== b) found.push(`${what} ${a} against ${b}`);
  };
  if (!lengthAssumed && Math.abs(left.lengthMm - right.lengthMm) > EQUAL_WITHIN_MM) {
    differs("length", millimetres(left.lengthMm), millimetres(right.lengthMm));
  }
  const takeUp = (line: PlanLine): number => line.loop?.takeUpMm ?? 0;
  if (Math.abs(takeUp(left) - takeUp(right)) > EQUAL_WITHIN_MM) {
    differs("loop take-up", millimetres(takeUp(left)), millimetres(takeUp(right)));
  }
  differs("material", left.material, right.material);
  differs("row", left.row, right.row);
  differs("hangs on", left.hangsOn, right.hangsOn);
  return found;
}

function tabDifferences(left: PlanTab, right: PlanTab): readonly string[] {
  const found: string[] = [];
  const differs = (what: string, a: unknown, b: unknown): void => {
    if (a !== b) found.push(`${what} ${a ?? "not given"} against ${b ?? "not given"}`);
  };
  differs("rib", left.rib, right.rib);
  differs("row", left.row, right.row);
  differs("chord fraction", left.chordFraction, right.chordFraction);
  differs("end of line", left.line, right.line);
  return found;
}

function unequal(cascades: Cascades): readonly Problem[] {
  const found: Problem[] = [];
  const remedy = "Correct the one that is wrong; leave both if the sides are meant to differ.";
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
        `Line ${id} differs left against right: ${listed(differences)}.`,
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
        `Tab ${id} differs left against right: ${listed(differences)}.`,
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
