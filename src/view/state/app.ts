/** This page's store, and hooks on it. */
import { useMemo } from "react";
import { useStore } from "zustand";
import type { Analysis } from "../../diagnosis/model.ts";
import { analysisColouredBy } from "../model/judging-colour.ts";
import { pickedLines } from "../model/picked.ts";
import { analysisClient, openAnalysisWorker } from "../worker/client.ts";
import { NOTHING } from "./choices.ts";
import { browserShelf } from "./keep.ts";
import { analysisShown, type Live } from "./live.ts";
import { type AppState, createAppStore } from "./store.ts";

export const shelf = browserShelf();
export const app = createAppStore({ client: analysisClient(openAnalysisWorker), shelf });

export function useApp<T>(select: (state: AppState) => T): T {
  return useStore(app, select);
}

/** What figures, charts and colours show: the wing as measured or as tried, under the present rigging. */
export function useAnalysis(): Analysis | undefined {
  return useApp(({ live, choices }) => (live === undefined ? undefined : analysisShown(live, choices.shown)));
}

/** The readings' analysis, at trim and without what is tried: what is judged. */
export function useBaseAnalysis(): Analysis | undefined {
  return useApp(({ work }) => (work.state === "ready" ? work.analysis : undefined));
}

/** The analysis shown, its lines by what they are to be coloured by. */
export function useColouredAnalysis(): Analysis | undefined {
  const analysis = useAnalysis();
  const by = useApp(({ choices }) => choices.colouredBy);
  return useMemo(
    () => (analysis === undefined ? undefined : analysisColouredBy(analysis, by)),
    [analysis, by],
  );
}

/** What the lines picked out were picked by, and a way to pick out lines by something; undefined lets go. */
export function usePickBy(): readonly [
  by: string | undefined,
  pick: (by: string | undefined, keys: readonly string[]) => void,
] {
  const by = useApp(({ choices }) => (choices.picked.kind === "lines" ? choices.picked.by : undefined));
  const choose = useApp((state) => state.choose);
  return [
    by,
    (next, keys) => choose({ picked: next === undefined ? NOTHING : { kind: "lines", by: next, keys } }),
  ];
}

export function useLive(): Live | undefined {
  return useApp((state) => state.live);
}

/** Keys of the lines picked out, for the 3D, the chart and the list alike. */
export function usePickedLines(): ReadonlySet<string> {
  const analysis = useAnalysis();
  const picked = useApp(({ choices }) => choices.picked);
  return useMemo(() => pickedLines(picked, analysis), [picked, analysis]);
}

/** Deviation at the ends of the colour scale [m]. */
export function useRangeM(): number {
  return useApp(
    ({ choices, work }) => choices.rangeM ?? (work.state === "ready" ? work.suitableRangeM : 0.03),
  );
}

/** Picks one line, and the rib above it; picking it again lets go. */
export function pickLine(lineKey: string | undefined): void {
  const { choices, choose } = app.getState();
  const again = choices.picked.kind === "line" && choices.picked.key === lineKey;
  if (lineKey === undefined || again) {
    choose({ picked: { kind: "none" } });
    return;
  }
  const { document } = app.getState();
  const tabs = (document?.cascade.tabsAbove.get(lineKey) ?? []).flatMap(
    (key) => document?.cascade.tabs.get(key) ?? [],
  );
  const middle = tabs[Math.floor(tabs.length / 2)];
  choose({
    picked: { kind: "line", key: lineKey },
    ...(middle === undefined ? {} : { rib: middle.rib, ribSide: middle.side }),
  });
}
