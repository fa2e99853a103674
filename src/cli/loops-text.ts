/** A loop plan as text: the loops as they are, the best changes, what fewer reach, and what is left. */
import { summariseRows } from "../diagnosis/rows.ts";
import type { Row } from "../plan/index.ts";
import type { Deviations } from "../readings/index.ts";
import {
  type BlockedLine,
  type LineLoops,
  type LoopPlan,
  type LoopState,
  sayList,
} from "../workshop/index.ts";
import { choicesText } from "./loop-choices.ts";
import type { LoopAnswer } from "./loops-json.ts";
import { figure, paragraph, signed, table } from "./table.ts";
import { frameText, inMm, limitsText } from "./wing-report.ts";

export function loopsText(answer: LoopAnswer): string {
  const { wing, check, loops, choices, plans, report } = answer;
  const list = (sentences: readonly string[]): string =>
    sentences.map((text) => paragraph(text, "  ")).join("");
  const section = (title: string, text: string): string => (text === "" ? "" : `${title}\n${text}`);
  return [
    frameText(wing, check),
    section("Loops as they are", `${presentTable(loops)}${assumedBars(loops)}`),
    paragraph(`${choicesText(choices, loops)}.`),
    section("Best changes", plans.best.changes.length === 0 ? "  none\n" : changeTable(plans.best)),
    paragraph(report.summary),
    section("What fewer or more changes leave", frontierTable(answer)),
    section("Nearly as good", plans.runnersUp.map(runnerUp).join("")),
    section("What is left, by row", rowTable(answer)),
    section("What is left, by path", pathTable(answer)),
    section("What loops can't reach", list([...report.sentences, ...report.followUp])),
    section("Not changed", blockedText(plans.blocked)),
    section("Left to take out later", list(report.reserve.map(({ sentence }) => sentence))),
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
    ["row", "loop", "takes up", "+-", "from", "known by", "lines"],
    [...groups.values()].map(({ line, keys }) => {
      const { kind, takeUpM, standardUncertaintyM, source } = presentOf(line);
      return [
        line.row,
        kind.name,
        figure(1000 * takeUpM, 1),
        figure(1000 * standardUncertaintyM, 1),
        takeUpM === 0 ? "-" : source,
        line.presentRecorded ? "recorded" : "as specified",
        keys.length === count.get(line.row)
          ? `all ${keys.length}`
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
  return paragraph(
    `The plan gives no bar diameter for ${maillons.length === 1 ? "maillon" : "maillons"} ${sayList(maillons)}: a usual one is taken.`,
  );
}

function changeTable(plan: LoopPlan): string {
  return table(
    ["line", "side", "from", "to", "mm", "+-", "from take-up of", "to that of"],
    plan.changes.map(({ lineKey, from, to, changeM, standardUncertaintyM }) => [
      lineKey.slice(lineKey.indexOf(":") + 1),
      lineKey.slice(0, lineKey.indexOf(":")),
      from.kind.name,
      to.kind.name,
      signed(1000 * changeM, 1),
      figure(1000 * standardUncertaintyM, 1),
      takeUp(from),
      takeUp(to),
    ]),
  );
}

/** `13.0 plan`; a plain eye takes up nothing by definition. */
function takeUp({ takeUpM, source }: LoopState): string {
  return takeUpM === 0 ? "0" : `${figure(1000 * takeUpM, 1)} ${source}`;
}

function frontierTable({ plans }: LoopAnswer): string {
  return table(
    ["changes", "rms", "worst", "beyond limit", "shared", "reached", ""],
    plans.frontier.map((plan) => [
      String(plan.changes.length),
      figure(inMm(plan.rmsM), 1),
      figure(inMm(plan.worstM), 1),
      String(plan.beyond),
      signed(inMm(plan.sharedM), 1),
      `${figure(100 * plan.reached)} %`,
      plan.changes.length === plans.best.changes.length
        ? "best"
        : plan.changes.length === 0
          ? "as it is"
          : "",
    ]),
  );
}

function runnerUp(plan: LoopPlan): string {
  const done = plan.changes.map(({ lineKey, to }) => `${lineKey} to ${to.kind.name}`).join(", ");
  const count = plan.changes.length === 1 ? "1 change" : `${plan.changes.length} changes`;
  return paragraph(
    `${count}, rms ${figure(inMm(plan.rmsM), 1)} mm, worst ${figure(inMm(plan.worstM), 1)} mm: ${done === "" ? "none" : done}.`,
    "  ",
  );
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
    ["row", "read", "mean now", "worst now", "out of limits", "mean then", "worst then", "out of limits"],
    summariseRows(wing, deviations, nothing).map((now, i) => [
      now.row,
      `${now.measured} of ${now.total}`,
      signed(inMm(now.meanM), 1),
      signed(inMm(now.worstM), 1),
      beyond(deviations, now.row),
      signed(inMm(after[i]?.meanM), 1),
      signed(inMm(after[i]?.worstM), 1),
      beyond(report.predicted, now.row),
    ]),
  );
}

function pathTable({ wing, report }: LoopAnswer): string {
  const after = new Map(report.paths.map((path) => [path.tabKey, path]));
  return table(
    ["tab", "left: now", "change", "then", "+-", "right: now", "change", "then", "+-"],
    [...new Set(wing.tabs.map((tab) => tab.id))].map((id) => [
      id,
      ...(["left", "right"] as const).flatMap((side) => {
        const path = after.get(`${side}:${id}`);
        return [
          signed(inMm(path?.presentM), 1),
          signed(inMm(path?.changeM), 1),
          signed(inMm(path?.predictedM), 1),
          figure(inMm(path?.standardUncertaintyM), 1),
        ];
      }),
    ]),
  );
}

const REASONS: Readonly<Record<BlockedLine["reason"], string>> = {
  locked: "may not change, by your choice",
  "no other state": "has no other loop that your choices allow",
  "not read": "has no path above it that was read",
  "present beyond limit": "has a loop that takes up more than the maker allows",
  "present kind not allowed": "has a loop that isn't to be tied",
  "row can't move": "can't go along, as one line of its row can't",
};

function blockedText(blocked: readonly BlockedLine[]): string {
  return (Object.keys(REASONS) as BlockedLine["reason"][])
    .flatMap((reason) => {
      const keys = blocked.filter((line) => line.reason === reason).map(({ lineKey }) => lineKey);
      return keys.length === 0 ? [] : [paragraph(`${sayList(keys)}: ${REASONS[reason]}.`, "  ")];
    })
    .join("");
}
