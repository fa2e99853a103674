/** A loop plan as text: the loops as they are, the best changes, what fewer reach, and what is left. */

import { summariseRows } from "../diagnosis/rows.ts";
import { type Row, SIDES } from "../plan/index.ts";
import type { Deviations } from "../readings/index.ts";
import { type Key, length, lengthUnitName, say } from "../words/index.ts";
import {
  type BlockedLine,
  kindName,
  type LineLoops,
  type LoopPlan,
  type LoopState,
  sayList,
} from "../workshop/index.ts";
import { choicesText } from "./loop-choices.ts";
import type { LoopAnswer } from "./loops-json.ts";
import { figure, lengthFigure, paragraph, signedLength, table } from "./table.ts";
import { frameText, limitsText } from "./wing-report.ts";

export function loopsText(answer: LoopAnswer): string {
  const { wing, check, loops, choices, plans, report } = answer;
  const list = (sentences: readonly string[]): string =>
    sentences.map((text) => paragraph(text, "  ")).join("");
  const section = (title: Key, text: string): string => (text === "" ? "" : `${say(title)}\n${text}`);
  return [
    frameText(wing, check),
    section("cli.title.loops.present", `${presentTable(loops)}${assumedBars(loops)}`),
    paragraph(`${choicesText(choices, loops)}.`),
    section(
      "cli.title.loops.best",
      plans.best.changes.length === 0 ? `  ${say("cli.none")}\n` : changeTable(plans.best),
    ),
    paragraph(report.summary),
    section("cli.title.loops.frontier", frontierTable(answer)),
    section("cli.title.loops.nearly", plans.runnersUp.map(runnerUp).join("")),
    section("cli.title.loops.rows", rowTable(answer)),
    section("cli.title.loops.paths", pathTable(answer)),
    section("cli.title.loops.unreached", list([...report.sentences, ...report.followUp])),
    section("cli.title.loops.blocked", blockedText(plans.blocked)),
    section("cli.title.loops.reserve", list(report.reserve.map(({ sentence }) => sentence))),
    limitsText(wing),
    report.cautions.map((text) => paragraph(text)).join(""),
  ]
    .filter((text) => text !== "")
    .join("\n");
}

/** Lines of a row in the same loop, known from the same source, are one line of the table. */
function presentTable(loops: readonly LineLoops[]): string {
  const groups = new Map<string, { readonly line: LineLoops; readonly keys: string[] }>();
  const count = new Map<Row, number>();
  for (const line of loops) {
    count.set(line.row, (count.get(line.row) ?? 0) + 1);
    const { kind, takeUpM, source } = presentOf(line);
    const group = JSON.stringify([line.row, kind.id, takeUpM, source, line.presentRecorded]);
    const known = groups.get(group);
    if (known === undefined) groups.set(group, { line, keys: [line.lineKey] });
    else known.keys.push(line.lineKey);
  }
  return table(
    [
      say("cli.head.row"),
      say("cli.head.loop"),
      say("cli.head.takes-up"),
      say("cli.head.within"),
      say("cli.head.source"),
      say("cli.head.known-by"),
      say("cli.head.lines"),
    ],
    [...groups.values()].map(({ line, keys }) => {
      const { kind, takeUpM, standardUncertaintyM, source } = presentOf(line);
      return [
        say("cli.row", { row: line.row }),
        kindName(kind),
        lengthFigure(takeUpM, 1),
        lengthFigure(standardUncertaintyM, 1),
        takeUpM === 0 ? "-" : say("cli.source", { source }),
        say("cli.loops.known", { known: line.presentRecorded ? "recorded" : "specified" }),
        keys.length === count.get(line.row)
          ? say("cli.loops.all", { count: keys.length })
          : keys.length > 3
            ? String(keys.length)
            : keys.join(" "),
      ];
    }),
  );
}

const presentOf = (line: LineLoops): LoopState => line.states[line.present] as LoopState;

function assumedBars(loops: readonly LineLoops[]): string {
  const maillons = [...new Set(loops.filter((line) => line.barAssumed).map((line) => line.maillonId))];
  if (maillons.length === 0) return "";
  return paragraph(say("cli.loops.bars", { count: maillons.length, names: sayList(maillons) }));
}

function changeTable(plan: LoopPlan): string {
  return table(
    [
      say("cli.head.line"),
      say("cli.head.side"),
      say("cli.head.from"),
      say("cli.head.to"),
      lengthUnitName(),
      say("cli.head.within"),
      say("cli.head.take-up.from"),
      say("cli.head.take-up.to"),
    ],
    plan.changes.map(({ lineKey, from, to, changeM, standardUncertaintyM }) => [
      lineKey.slice(lineKey.indexOf(":") + 1),
      say("cli.side", { side: lineKey.slice(0, lineKey.indexOf(":")) }),
      kindName(from.kind),
      kindName(to.kind),
      signedLength(changeM, 1),
      lengthFigure(standardUncertaintyM, 1),
      takeUp(from),
      takeUp(to),
    ]),
  );
}

/** `13.0 plan`; a plain eye takes up nothing by definition. */
function takeUp({ takeUpM, source }: LoopState): string {
  return takeUpM === 0 ? "0" : say("cli.loops.take-up", { takeUp: lengthFigure(takeUpM, 1), source });
}

function frontierTable({ plans }: LoopAnswer): string {
  return table(
    [
      say("cli.head.changes"),
      say("cli.head.rms"),
      say("cli.head.worst"),
      say("cli.head.beyond"),
      say("cli.head.shared"),
      say("cli.head.reached"),
      "",
    ],
    plans.frontier.map((plan) => [
      String(plan.changes.length),
      lengthFigure(plan.rmsM, 1),
      lengthFigure(plan.worstM, 1),
      String(plan.beyond),
      signedLength(plan.sharedM, 1),
      `${figure(100 * plan.reached)} %`,
      plan.changes.length === plans.best.changes.length
        ? say("cli.loops.best")
        : plan.changes.length === 0
          ? say("cli.loops.as-it-is")
          : "",
    ]),
  );
}

function runnerUp(plan: LoopPlan): string {
  const done = plan.changes.map(({ lineKey, to }) =>
    say("cli.loops.to", { line: lineKey, loop: kindName(to.kind) }),
  );
  const said = {
    changes: plan.changes.length,
    rms: length(plan.rmsM, 1),
    worst: length(plan.worstM, 1),
    done: done.length === 0 ? say("cli.none") : done.join(", "),
  };
  return paragraph(say("cli.loops.nearly", said), "  ");
}

function rowTable({ wing, deviations, report }: LoopAnswer): string {
  const nothing = (): undefined => undefined;
  const after = summariseRows(wing, report.predicted, nothing);
  // A figure on the limit itself is within it, whatever the last binary digit says.
  const limitM = wing.tolerances.pathM + 1e-7;
  const beyond = (found: Deviations, of: Row): string =>
    String(
      found.paths.filter(({ row, deviationM }) => row === of && Math.abs(deviationM ?? 0) > limitM).length,
    );
  return table(
    [
      say("cli.head.row"),
      say("cli.head.read"),
      say("cli.head.mean.now"),
      say("cli.head.worst.now"),
      say("cli.head.out"),
      say("cli.head.mean.then"),
      say("cli.head.worst.then"),
      say("cli.head.out"),
    ],
    summariseRows(wing, deviations, nothing).map((now, i) => [
      say("cli.row", { row: now.row }),
      say("cli.of", { part: now.measured, total: now.total }),
      signedLength(now.meanM, 1),
      signedLength(now.worstM, 1),
      beyond(deviations, now.row),
      signedLength(after[i]?.meanM, 1),
      signedLength(after[i]?.worstM, 1),
      beyond(report.predicted, now.row),
    ]),
  );
}

function pathTable({ wing, report }: LoopAnswer): string {
  const after = new Map(report.paths.map((path) => [path.tabKey, path]));
  return table(
    [
      say("cli.head.tab"),
      ...SIDES.flatMap((side) => [
        say("cli.head.side.now", { side }),
        say("cli.head.change"),
        say("cli.head.then"),
        say("cli.head.within"),
      ]),
    ],
    [...new Set(wing.tabs.map((tab) => tab.id))].map((id) => [
      id,
      ...SIDES.flatMap((side) => {
        const path = after.get(`${side}:${id}`);
        return [
          signedLength(path?.presentM, 1),
          signedLength(path?.changeM, 1),
          signedLength(path?.predictedM, 1),
          lengthFigure(path?.standardUncertaintyM, 1),
        ];
      }),
    ]),
  );
}

const REASONS: Readonly<Record<BlockedLine["reason"], Key>> = {
  locked: "cli.blocked.locked",
  "no other state": "cli.blocked.no-state",
  "not read": "cli.blocked.not-read",
  "present beyond limit": "cli.blocked.limit",
  "present kind not allowed": "cli.blocked.kind",
  "row can't move": "cli.blocked.row",
};

function blockedText(blocked: readonly BlockedLine[]): string {
  return (Object.keys(REASONS) as BlockedLine["reason"][])
    .flatMap((reason) => {
      const keys = blocked.filter((line) => line.reason === reason).map(({ lineKey }) => lineKey);
      if (keys.length === 0) return [];
      return [paragraph(say(REASONS[reason], { lines: sayList(keys) }), "  ")];
    })
    .join("");
}
