/** What to think over before a swap, in plain words. */
import { plainMm, wayOf } from "../diagnosis/wording.ts";
import type { Line } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { kindName } from "./kinds.ts";
import type { SwapInput, SwapSide } from "./swap-model.ts";
import { lineName } from "./wording.ts";

/**
 * Warnings for a pair.
 *
 * @param leftRightM mean of the left paths less the right ones once the new lines hang [m]; undefined where not known
 */
export function warningsOf(
  {
    damaged,
    replaced,
    input,
  }: {
    readonly damaged: ReadonlySet<string>;
    readonly replaced: ReadonlySet<string>;
    readonly input: SwapInput;
  },
  pair: readonly Line[],
  sides: readonly SwapSide[],
  leftRightM: number | undefined,
): readonly string[] {
  const nameOf = (key: string): string => lineName(pair.find((line) => line.key === key) as Line);
  const staying = sides.filter((side) => !side.replaced);
  const going = sides.filter((side) => side.replaced);
  const one = staying.length > 0 && going.length > 0 ? going[0] : undefined;
  const kinds = going.map((side) =>
    side.suggested === undefined ? undefined : side.landings[side.suggested]?.state?.kind,
  );
  const [first, second] = kinds;
  return [
    ...staying
      .filter(({ lineKey }) => damaged.has(lineKey))
      .map(({ lineKey }) => say("workshop.swap.damaged-stays", { name: nameOf(lineKey) })),
    ...(one === undefined
      ? []
      : leftRightM === undefined
        ? [say("workshop.swap.alone.unknown", { name: nameOf(one.lineKey) })]
        : [
            say("workshop.swap.alone", {
              name: nameOf(one.lineKey),
              by: plainMm(leftRightM, 1),
              way: wayOf(one.side === "left" ? leftRightM : -leftRightM),
            }),
          ]),
    ...(pair.length === 1 ? [say("workshop.twin.none", { name: lineName(pair[0] as Line) })] : []),
    ...(first !== undefined && second !== undefined && first.id !== second.id
      ? [say("workshop.swap.unlike", { left: kindName(first), right: kindName(second) })]
      : []),
    ...going.flatMap(({ lineKey, old, fresh }) => [
      ...(old?.basis === "attributed"
        ? [
            say("workshop.swap.old-reckoned", {
              name: nameOf(lineKey),
              within: plainMm(2 * old.standardUncertaintyM, 1),
            }),
          ]
        : []),
      ...(fresh.basis === "specified" ? [say("workshop.swap.new-specified", { name: nameOf(lineKey) })] : []),
    ]),
    ...(input.deviations === undefined && replaced.size > 0 ? [say("workshop.swap.no-readings")] : []),
    ...(going.length > 0 ? [say("workshop.swap.stretched")] : []),
  ];
}
