/** An invented wing's plan: cascades formed in equilibrium under their tabs, lengths rounded as on a maker's sheet. */
import { type CascadeForm, formCascade } from "../geometry/cascade-form.ts";
import { outlineFigures } from "../geometry/outline.ts";
import { add, distance, towards, type Vector } from "../geometry/vector.ts";
import { PLAN_FORMAT, type PlanFile, type PlanLine, type PlanTab } from "../plan/index.ts";
import { type HungTab, hangTabs, isCarrier } from "./hang.ts";
import type { Branch, RowSpec, WingSpec } from "./wing-spec.ts";

/** What tiers are called in a line's name: lower, middle, upper. The topmost line of a chain bears its tab's name. */
const TIER_LETTERS = ["L", "M", "U"];

/** One line as the cascade is drawn, before it has a length. */
interface Drawn {
  readonly id: string;
  readonly row: RowSpec;
  readonly tier: number;
  readonly hangsOn: string;
  /** Index of what it hangs on among the lines of its tree, −1 at the root. */
  readonly below: number;
  /** Index among the wing's tabs, −1 where it carries lines. */
  readonly tab: number;
  /** Indices of all tabs above. */
  readonly above: readonly number[];
}

/**
 * The plan of an invented wing, one half for both sides.
 *
 * Every riser with its strap, and the brakes from their pulley, is one cascade in equilibrium (`formCascade`). Lengths are then
 * rounded to the millimetre, the loop's take-up is added to the lower lines and the free travel to the brakes' lower line, and the
 * totals are summed from the rounded lengths, as the trade does.
 *
 * @throws RangeError where the spec has no such equilibrium
 */
export function makeWing(spec: WingSpec): PlanFile {
  const tabs = hangTabs(spec);
  const carabiner: Vector = [0, spec.carabinerSpacingM / 2, 0];
  const drawn = drawLines(spec.rows);
  const tabIds = drawn.filter((line) => line.tab >= 0).map((line) => line.id);
  const lengthsMm = new Map<string, number>();
  let pulley: Vector | undefined;

  for (const riser of spec.risers) {
    const maillonIds = spec.maillons
      .filter((maillon) => maillon.riser === riser.id)
      .map((maillon) => maillon.id);
    const lines = drawn.filter((line) => maillonIds.includes(line.row.hangsOn));
    const formed = form(lines, tabs, carabiner, riser.lengthMm / 1000);
    lines.forEach((line, i) => {
      lengthsMm.set(line.id, Math.round(1000 * (formed.lengthsM[i + 1] as number)));
    });
    if (riser.id === spec.brakes.pulleyRiser) {
      const maillon = formed.upperEnds[0] as Vector;
      pulley = add(carabiner, towards(carabiner, maillon), spec.brakes.pulleyHeightMm / 1000);
    }
  }
  const brakeLines = drawn.filter((line) => line.row.row === "brake");
  if (brakeLines.length > 0) {
    if (!pulley)
      throw new RangeError(`No riser is called ${spec.brakes.pulleyRiser}, where the pulley shall be.`);
    const formed = form(brakeLines, tabs, pulley, undefined);
    brakeLines.forEach((line, i) => {
      const slack = line.tier === 1 ? spec.brakes.freeTravelMm : 0;
      lengthsMm.set(line.id, Math.round(1000 * (formed.lengthsM[i] as number)) + slack);
    });
  }

  const planLines = drawn.map((line): PlanLine => {
    const loop = line.tier === 1 ? line.row.loop : undefined;
    return {
      id: line.id,
      row: line.row.row,
      tier: line.tier,
      hangsOn: line.hangsOn,
      lengthMm: (lengthsMm.get(line.id) as number) + (loop?.takeUpMm ?? 0),
      material: materialOf(line),
      colour: line.row.colour,
      ...(loop ? { loop } : {}),
    };
  });
  const planTabs = tabs.map((tab, i): PlanTab => {
    const id = tabIds[i] as string;
    const line = drawn.find((each) => each.tab === i) as Drawn;
    return {
      id,
      row: tab.row.row,
      rib: tab.rib,
      chordFraction: tab.chordFraction,
      line: line.id,
      pathMm: pathMm(spec, planLines, line.id),
    };
  });
  return {
    format: PLAN_FORMAT,
    version: 1,
    wing: spec.wing,
    canopy: canopyOf(spec),
    materials: [...spec.materials],
    reference: spec.reference,
    ...(spec.tolerances ? { tolerances: spec.tolerances } : {}),
    risers: spec.risers,
    maillons: spec.maillons,
    brakes: spec.brakes,
    ...(spec.settings ? { settings: spec.settings } : {}),
    sides: { mirrored: { lines: planLines, tabs: planTabs } },
  };
}

/** All lines of one side, each after the one it hangs on; tabs are counted in the order of the rows. */
function drawLines(rows: readonly RowSpec[]): Drawn[] {
  const drawn: Drawn[] = [];
  let tabs = 0;
  for (const row of rows) {
    const counts = new Map<string, number>();
    const number = (letter: string) => {
      const next = (counts.get(letter) ?? 0) + 1;
      counts.set(letter, next);
      return `${row.prefix}${letter}${next}`;
    };
    const draw = (branch: Branch, tier: number, hangsOn: string, below: number): void => {
      const carries = isCarrier(branch);
      const first = tabs;
      const id = number(carries ? (TIER_LETTERS[tier - 1] ?? "") : "");
      const place = drawn.length;
      if (!carries) tabs++;
      drawn.push({
        id,
        row,
        tier,
        hangsOn,
        below,
        tab: carries ? -1 : first,
        above: [],
      });
      if (carries) for (const part of branch) draw(part, tier + 1, id, place);
      const above = Array.from({ length: tabs - first }, (_, i) => first + i);
      drawn[place] = { ...(drawn[place] as Drawn), above };
    };
    for (const lower of row.lowerLines) draw(lower, 1, row.hangsOn, -1);
  }
  return drawn;
}

/** One riser's lines with its strap as the first member, or the brakes' lines without. */
function form(
  lines: readonly Drawn[],
  tabs: readonly HungTab[],
  root: Vector,
  strapM: number | undefined,
): CascadeForm {
  const strap = strapM === undefined ? 0 : 1;
  const places = new Map(lines.map((line, i) => [line.id, i + strap]));
  const middle = (above: readonly number[]): Vector => {
    let sum: Vector = [0, 0, 0];
    let pull = 0;
    for (const i of above) {
      const tab = tabs[i] as HungTab;
      const size = Math.hypot(...tab.force);
      sum = add(sum, tab.position, size);
      pull += size;
    }
    return add([0, 0, 0], sum, 1 / pull);
  };
  const maillon =
    strapM === undefined ? root : add(root, towards(root, middle(lines.flatMap((l) => l.above))), strapM);
  const wanted = lines.map((line) => {
    if (line.tab >= 0) return 0;
    // Shorter towards the tip, as makers draw it: the fan narrows with the wing.
    const slender = 0.7 + 0.3 * narrowing(line.above, tabs);
    const rise = (tier: number) => slender * (line.row.riseM[tier - 2] as number);
    if (line.tier > 1) return rise(line.tier);
    let above = 0;
    for (let tier = 2; tier <= deepest(lines, line); tier++) above += rise(tier);
    return distance(maillon, middle(line.above)) - above;
  });
  const formed = formCascade(
    {
      hangsOn: [
        ...(strap ? [-1] : []),
        ...lines.map((line) => (line.tier === 1 ? strap - 1 : (places.get(line.hangsOn) as number))),
      ],
      tab: [...(strap ? [-1] : []), ...lines.map((line) => line.tab)],
      wantedM: [...(strapM === undefined ? [] : [strapM]), ...wanted],
    },
    tabs.map((tab) => tab.position),
    tabs.map((tab) => tab.force),
    root,
  );
  if (!formed.converged) {
    throw new RangeError(`The cascade from ${lines[0]?.id} on has no equilibrium with the lengths wanted.`);
  }
  return formed;
}

/** Mean chord at some tabs over the chord at the wing's first tab. */
function narrowing(above: readonly number[], tabs: readonly HungTab[]): number {
  const chord = (i: number) => (tabs[i] as HungTab).chordM;
  return above.reduce((sum, i) => sum + chord(i), 0) / above.length / chord(0);
}

/** Tier of the topmost line above a lower line. */
function deepest(lines: readonly Drawn[], lower: Drawn): number {
  return Math.max(
    ...lines.filter((line) => line.above.every((tab) => lower.above.includes(tab))).map((line) => line.tier),
  );
}

function materialOf(line: Drawn): string {
  const { materials } = line.row;
  const place = line.tab >= 0 ? materials.length - 1 : Math.min(line.tier, materials.length) - 1;
  return materials[place] as string;
}

/** Sum of the rounded lengths less the take-up, and the strap where the totals begin at the riser's base; brakes from the pulley. */
function pathMm(spec: WingSpec, lines: readonly PlanLine[], top: string): number {
  const byId = new Map(lines.map((line) => [line.id, line]));
  let sum = 0;
  let at = byId.get(top);
  let root = "";
  while (at) {
    sum += at.lengthMm - (at.loop?.takeUpMm ?? 0);
    root = at.hangsOn;
    at = byId.get(root);
  }
  const maillon = spec.maillons.find((each) => each.id === root);
  const riser = spec.risers.find((each) => each.id === maillon?.riser);
  return sum + (spec.reference.from === "riser" && riser ? riser.lengthMm : 0);
}

function canopyOf(spec: WingSpec): NonNullable<PlanFile["canopy"]> {
  const figures = outlineFigures(spec.outline);
  const rounded = (value: number) => Math.round(100 * value) / 100;
  return {
    flatAreaM2: rounded(figures.flatAreaM2),
    flatSpanM: rounded(figures.flatSpanM),
    projectedSpanM: rounded(figures.projectedSpanM),
    projectedAreaM2: rounded(figures.projectedAreaM2),
    cells: spec.cells,
    rootChordM: spec.outline.rootChordM,
    tipChordM: spec.outline.tipChordM,
    rowChordFractions: Object.fromEntries(
      spec.rows.filter(({ row }) => row !== "tip").map(({ row, chordFraction }) => [row, chordFraction]),
    ),
    carabinerSpacingM: spec.carabinerSpacingM,
  };
}
