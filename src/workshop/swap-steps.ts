/** The steps of a swap in order, fitted to the line. Common practice, no source; the maker's manual goes first. */
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
  const tier = tierWord(line);
  const lower = tier === "lower";
  const names = sayList(traces.map((trace) => lineName(trace.line)));
  const keys = traces.map((trace) => trace.line.key);
  const joins = sayUpperEnd(first);
  const joining = first.carriesLines.length + first.carriesTabs.length;
  const below = first.below[0];
  const siblings = first.siblings.map(({ id }) => id);
  const onFoot = first.onFoot.map(({ id }) => id);
  const footKeys = traces.flatMap((trace) => trace.onFoot.map(({ key }) => key));
  const bar = foot.kind === "maillon" ? `maillon ${foot.maillonId}` : "brake handle";
  const onMaillon = line.hangsOn.kind === "maillon";
  const step = (id: SwapStep["id"], text: string, lineKeys: readonly string[] = keys): SwapStep => ({
    id,
    text,
    lineKeys,
  });
  return [
    ...(lower
      ? [
          step(
            "stop",
            `Don't fly the wing: ${names} must be replaced and the wing checked before anyone does.`,
          ),
        ]
      : []),
    step(
      "separate",
      `Lay the wing out and separate the lines down to ${foot.kind === "maillon" ? bar : `the ${bar}`}, so that ${names} can be followed by hand from end to end.`,
    ),
    ...(onMaillon
      ? [
          step(
            "record",
            `Before you open ${bar}, record what hangs on it, in which order and with which loop: ${sayList(onFoot)}. A photograph helps.`,
            footKeys,
          ),
          step(
            "open",
            `Open ${bar} and take off ${line.id} alone. Nothing else may move: hold the others on the bar.`,
          ),
          step(
            "inspect",
            `While it's open, look at the eyes of ${sayList(onFoot.filter((id) => id !== line.id))} and at the thread of the maillon.`,
            footKeys,
          ),
        ]
      : below === undefined
        ? [
            step("record", `Mark where ${line.id} is tied to the brake handle, and photograph the knot.`),
            step(
              "open",
              `Undo the knot at the handle and pull ${line.id} back through the pulley. Look whether the pulley runs freely.`,
            ),
          ]
        : [
            step(
              "record",
              `Photograph the joint at the top of ${below.id}: how ${sayList(first.siblings.length === 0 ? [line.id] : [line.id, ...siblings])} ${siblings.length === 0 ? "is" : "are"} hitched there.`,
              [below.key, ...keys],
            ),
            step(
              "open",
              `Open the hitch on ${below.id} and take off ${line.id} alone.${siblings.length === 0 ? "" : ` ${sayList(siblings)} ${siblings.length === 1 ? "stays" : "stay"} as ${siblings.length === 1 ? "it is" : "they are"}.`}`,
              [below.key, ...keys],
            ),
          ]),
    step(
      "draw out",
      `Undo ${joins} at the top, then draw the old line out slowly. A line that runs through others burns them in a moment.`,
    ),
    step(
      "compare",
      `Compare old and new side by side under the same tension, eye to eye, loops out. Write both lengths down: they decide ${onMaillon ? "the loop" : "whether the new one fits"}.`,
    ),
    step(
      "join",
      `Join ${joins} to the new line${joining > 1 ? " evenly: pull each snug, in the old order, none slack and none crossed" : ", snug and straight"}.`,
      [...keys, ...traces.flatMap((trace) => trace.carriesLines.map(({ key }) => key))],
    ),
    ...(onMaillon
      ? [
          step(
            "loop",
            `Hitch ${line.id} on the bar with the chosen loop, snug and even, no turn riding on another.`,
          ),
          step(
            "order",
            `Put the lines back in the order and with the loops that you recorded: ${sayList(onFoot)}. Tick each off.`,
            footKeys,
          ),
          step("close", `Screw ${bar} home by hand, then nip it with a spanner. Don't force it.`),
          step("keeper", "Put the keeper back in, so that the lines sit straight on the bar."),
        ]
      : below === undefined
        ? [
            step(
              "hang",
              `Lead ${line.id} through the pulley, untwisted, and tie it at the old mark with the maker's knot. Put the keeper back if there is one.`,
            ),
          ]
        : [
            step("hang", `Hitch ${line.id} on ${below.id} as it was, snug and straight.`, [
              below.key,
              ...keys,
            ]),
          ]),
    ...(traces.length > 1
      ? [
          step(
            "twin",
            `Do the same for the other of ${names}, then hold the two sides against each other under tension.`,
          ),
        ]
      : []),
    ...(line.row === "brake"
      ? [
          step(
            "brake",
            "Check the free travel of both brakes: hands up, the trailing edge must hang free and even on both sides.",
          ),
        ]
      : []),
    ...(lower
      ? [step("readings", `Measure the paths above ${names} again, and those of the lines beside.`)]
      : [
          step(
            "readings",
            `Measure the paths above ${names} again: ${sayList(first.tabs.map(({ id }) => `tab ${id}`))}.`,
          ),
        ]),
    step(
      "inflate",
      "Inflate on the ground: look at symmetry, at the trailing edge and at the brakes' free travel. Whether it may fly is for a qualified inspector to say.",
    ),
  ];
}
