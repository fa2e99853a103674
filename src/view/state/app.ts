/** This page's store, and hooks on it. */
import { useMemo } from "react";
import { useStore } from "zustand";
import type { Analysis } from "../../diagnosis/model.ts";
import { pickedLines } from "../model/picked.ts";
import { analysisClient, openAnalysisWorker } from "../worker/client.ts";
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
