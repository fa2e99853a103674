/** `linewright order`: the order list for lines to be made anew, or the lines that a text finds. */

import type { Wing } from "../plan/index.ts";
import { type Key, say } from "../words/index.ts";
import {
  type FoundLine,
  findLines,
  type OrderItem,
  type OrderList,
  orderCsv,
  orderList,
  orderText,
  sayLowerEnd,
  sayUpperEnd,
  tierWord,
  traceLine,
} from "../workshop/index.ts";
import { namedLines } from "./change.ts";
import type { Command } from "./command.ts";
import { readPlan } from "./inputs.ts";
import { EXIT_OK, UsageError } from "./io.ts";
import { jsonText, problemsJson, problemsText, rounded, wingCaution } from "./messages.ts";
import type { Arguments } from "./options.ts";
import { lengthFigure, paragraph, table } from "./table.ts";
import { mm, refuse } from "./wing-report.ts";

export const order: Command = {
  options: {
    line: { type: "string", multiple: true },
    find: { type: "string" },
    single: { type: "boolean" },
    csv: { type: "boolean" },
    json: { type: "boolean" },
  },
  operands: ["cli.operand.plan"],
  help: () => say("cli.help.order"),
  async run(given, io) {
    const wanted = readWanted(given);
    const json = given.flag("json");
    const plan = await readPlan(given.operands[0] ?? "", io);
    if (!plan.ok) return refuse("plan", plan.problems, json, io);
    const wing = plan.value;
    const problems = problemsJson(plan.problems);
    if (plan.problems.length > 0 && !json) io.err(problemsText(plan.problems));

    if (wanted.find !== undefined) {
      const found = findLines(wing, wanted.find);
      io.out(json ? jsonText({ ...foundJson(wing, found), problems }) : foundText(wing, found));
      return EXIT_OK;
    }
    const keys = wanted.lines.flatMap((name) => namedLines(name, wing, "--line"));
    const list = orderList(wing, keys, given.flag("single") ? { alone: new Set(keys) } : {});
    if (json) io.out(jsonText({ ...orderJson(list), problems }));
    else io.out(given.flag("csv") ? orderCsv(list) : orderText(list));
    return EXIT_OK;
  },
};

interface Wanted {
  readonly lines: readonly string[];
  readonly find: string | undefined;
}

/** @throws UsageError where nothing is asked for, or two things that exclude each other. */
function readWanted(given: Arguments): Wanted {
  const [lines, find] = [given.texts("line"), given.text("find")];
  const excluded = (one: string, other: string): never => {
    throw new UsageError(say("cli.option.exclude", { one, other }));
  };
  if (find === undefined && lines.length === 0) throw new UsageError(say("cli.order.what"));
  if (find !== undefined && lines.length > 0) excluded("--find", "--line");
  if (find !== undefined && given.flag("single")) excluded("--find", "--single");
  if (find !== undefined && given.flag("csv")) excluded("--find", "--csv");
  if (given.flag("csv") && given.flag("json")) excluded("--csv", "--json");
  return { lines, find };
}

function orderJson(list: OrderList): object {
  return {
    format: "linewright-order",
    version: 1,
    ok: true,
    wing: list.wing,
    size: list.size ?? null,
    caution: wingCaution(),
    referenceTensionN: list.referenceTensionN,
    from: list.from,
    quantity: list.quantity,
    items: list.items.map(itemJson),
    notes: list.notes,
    warnings: list.warnings,
    cautions: list.cautions,
  };
}

function itemJson(item: OrderItem) {
  return {
    line: item.name,
    lines: item.lineKeys,
    sides: item.sides,
    pieces: item.quantity,
    row: item.row,
    tier: item.tier,
    material: item.materialId,
    fibre: item.fibre ?? null,
    diameterMm: mm(item.diameterM),
    lengthMm: mm(item.lengthM),
    lengthIs: item.lengthBasis,
    tensionN: rounded(item.tensionN, 3),
    lowerEnd: item.lowerEnd,
    upperEnd: item.upperEnd,
    colour: item.colour ?? null,
    loopSpecified: item.loop ?? null,
  };
}

function foundJson(wing: Wing, found: readonly FoundLine[]): object {
  return {
    format: "linewright-lines",
    version: 1,
    ok: true,
    wing: wing.name,
    caution: wingCaution(),
    lines: found.map(({ line, by }) => {
      const trace = traceLine(wing, line.key);
      return {
        line: line.key,
        by,
        row: line.row,
        tier: tierWord(line),
        material: line.materialId,
        colour: line.colour ?? null,
        lengthMm: mm(line.lengthM),
        lengthAssumed: line.lengthAssumed,
        below: trace.below.map(({ key }) => key),
        maillon: trace.foot.kind === "maillon" ? trace.foot.maillonId : null,
        tabs: trace.tabs.map(({ key }) => key),
        twin: trace.twin?.key ?? null,
      };
    }),
  };
}

/** By what a line was found. */
const FOUND_BY: Readonly<Record<FoundLine["by"], Key>> = {
  name: "cli.found.name",
  "its tab": "cli.found.tab",
  begins: "cli.found.begins",
  "tab above": "cli.found.above",
  words: "cli.found.words",
};

function foundText(wing: Wing, found: readonly FoundLine[]): string {
  if (found.length === 0) return `${say("cli.order.none")}\n`;
  const rows = found.map(({ line, by }) => {
    const trace = traceLine(wing, line.key);
    return [
      line.key,
      say(FOUND_BY[by]),
      say("cli.order.kind", { tier: tierWord(line), row: line.row }),
      say("cli.order.length", {
        length: lengthFigure(line.lengthM),
        assumed: line.lengthAssumed ? "yes" : "no",
      }),
      line.colour ?? "-",
      sayLowerEnd(trace),
      sayUpperEnd(trace),
    ];
  });
  const head = [
    say("cli.head.line"),
    say("cli.head.found-by"),
    say("cli.head.what"),
    say("cli.head.length"),
    say("cli.head.colour"),
    say("cli.head.hangs-on"),
    say("cli.head.carries"),
  ];
  return `${table(head, rows)}\n${paragraph(wingCaution())}`;
}
