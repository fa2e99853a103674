/** What of a draft's diagrams is new, and what of a line is said beside them. */
import type { CascadeDiagram, Draft, DraftLine } from "../../plan/draft/index.ts";
import { fixed, type Key, say } from "../../words/index.ts";

/** The new diagrams, each that is drawn as before being the one from before: nothing of it need be drawn anew. */
export function sameDiagrams(
  before: readonly CascadeDiagram[],
  now: readonly CascadeDiagram[],
): readonly CascadeDiagram[] {
  const known = new Map(before.map((diagram) => [diagram.row, diagram]));
  return now.map((diagram) => {
    const old = known.get(diagram.row);
    return old !== undefined && JSON.stringify(old) === JSON.stringify(diagram) ? old : diagram;
  });
}

const KIND_NAMES: Readonly<Record<DraftLine["kind"], Key>> = {
  lower: "build.line.lower",
  middle: "build.line.middle",
  third: "build.line.third",
  upper: "build.line.upper",
};

/** "AL1: lower line on maillon A, no length of its own". */
export function lineText(draft: Draft, id: string): string {
  const line = draft.lines.find((each) => each.id === id);
  if (line === undefined) return id;
  const below = line.below === undefined ? undefined : draft.lines[line.below];
  const tab = line.tab === undefined ? undefined : draft.tabs[line.tab];
  const mm = (value: number | undefined): string =>
    value === undefined ? "" : fixed(value, Number.isInteger(value) ? 0 : 1);
  return say("build.line", {
    id,
    kind: say(KIND_NAMES[line.kind]),
    on: below === undefined ? (line.anchor === "pulley" ? "pulley" : "maillon") : "line",
    foot: below?.id ?? line.anchor,
    known: line.lengthMm === undefined ? "no" : "yes",
    length: mm(line.lengthMm),
    tab: tab === undefined ? "no" : tab.totalMm === undefined ? "bare" : "yes",
    rib: tab === undefined ? 0 : tab.rib,
    total: mm(tab?.totalMm),
  });
}
