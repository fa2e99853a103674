/** The steps of a swap in order, fitted to the line. Common practice, no source; the maker's manual goes first. */
import { say } from "../words/index.ts";
import { type LineTrace, lineName, sayList, sayUpperEnd, tierWord } from "./trace.ts";

export interface SwapStep {
  readonly id:
    | "stop"
    | "separate"
    | "record"
    | "open"
    | "inspect"
    | "draw out"
    | "join"
    | "compare"
    | "hang"
    | "loop"
    | "order"
    | "close"
    | "keeper"
    | "twin"
    | "brake"
    | "readings"
    | "inflate";
  readonly text: string;
  /** Lines that the step names. */
  readonly lineKeys: readonly string[];
}

/**
 * The steps for the lines of one pair that are replaced.
 *
 * @param traces of the replaced lines, left before right
 * @throws RangeError for none
 */
export function swapSteps(traces: readonly LineTrace[]): readonly SwapStep[] {
  const [first] = traces;
  if (first === undefined) throw new RangeError("Got no line to replace when at least one was expected.");
  const { line, foot } = first;
  const lower = tierWord(line) === "lower";
  const names = sayList(traces.map((trace) => lineName(trace.line)));
  const keys = traces.map((trace) => trace.line.key);
  const joins = sayUpperEnd(first);
  const joining = first.carriesLines.length + first.carriesTabs.length;
  const below = first.below[0];
  const siblings = first.siblings.map(({ id }) => id);
  const onFoot = first.onFoot.map(({ id }) => id);
  const footKeys = traces.flatMap((trace) => trace.onFoot.map(({ key }) => key));
  const maillon = foot.kind === "maillon" ? foot.maillonId : "";
  const onMaillon = line.hangsOn.kind === "maillon";
  const step = (id: SwapStep["id"], text: string, lineKeys: readonly string[] = keys): SwapStep => ({
    id,
    text,
    lineKeys,
  });
  const others = onFoot.filter((id) => id !== line.id);
  return [
    ...(lower ? [step("stop", say("workshop.step.stop", { names }))] : []),
    step("separate", say("workshop.step.separate", { foot: foot.kind, maillon, names })),
    ...(onMaillon
      ? [
          step("record", say("workshop.step.record", { maillon, lines: sayList(onFoot) }), footKeys),
          step("open", say("workshop.step.open", { maillon, line: line.id })),
          step(
            "inspect",
            say("workshop.step.inspect", { count: others.length, others: sayList(others) }),
            footKeys,
          ),
        ]
      : below === undefined
        ? [
            step("record", say("workshop.step.record.brake", { line: line.id })),
            step("open", say("workshop.step.open.brake", { line: line.id })),
          ]
        : [
            step(
              "record",
              say("workshop.step.record.joint", {
                below: below.id,
                lines: sayList([line.id, ...siblings]),
                siblings: siblings.length,
              }),
              [below.key, ...keys],
            ),
            step(
              "open",
              say("workshop.step.open.joint", {
                below: below.id,
                line: line.id,
                siblings: siblings.length,
                others: sayList(siblings),
              }),
              [below.key, ...keys],
            ),
          ]),
    step("draw out", say("workshop.step.draw-out", { joins })),
    step("compare", say("workshop.step.compare", { on: line.hangsOn.kind })),
    step("join", say("workshop.step.join", { joins, count: joining }), [
      ...keys,
      ...traces.flatMap((trace) => trace.carriesLines.map(({ key }) => key)),
    ]),
    ...(onMaillon
      ? [
          step("loop", say("workshop.step.loop", { line: line.id })),
          step("order", say("workshop.step.order", { lines: sayList(onFoot) }), footKeys),
          step("close", say("workshop.step.close", { maillon })),
          step("keeper", say("workshop.step.keeper")),
        ]
      : below === undefined
        ? [step("hang", say("workshop.step.hang.brake", { line: line.id }))]
        : [
            step("hang", say("workshop.step.hang", { line: line.id, below: below.id }), [below.key, ...keys]),
          ]),
    ...(traces.length > 1 ? [step("twin", say("workshop.step.twin", { names }))] : []),
    ...(line.row === "brake" ? [step("brake", say("workshop.step.brake"))] : []),
    step(
      "readings",
      lower
        ? say("workshop.step.readings.lower", { names })
        : say("workshop.step.readings", {
            names,
            tabs: sayList(first.tabs.map(({ id }) => say("workshop.tab", { id }))),
          }),
    ),
    step("inflate", say("workshop.step.inflate")),
  ];
}
