/** This page's draft, and hooks on it: what it is understood as, drawn as, and what the plan of it would be. */
import { useEffect, useMemo, useRef, useState } from "react";
import { useStore } from "zustand";
import {
  type CascadeDiagram,
  type Draft,
  type DraftedPlan,
  draftDiagram,
  parseDraft,
  planOfDraft,
} from "../../../plan/draft/index.ts";
import { sameDiagrams } from "../../model/build-diagrams.ts";
import { shelf } from "../../state/app.ts";
import { type BuildState, createBuildStore } from "../../state/build.ts";

export const builder = createBuildStore(shelf);

export function useBuilder<T>(select: (state: BuildState) => T): T {
  return useStore(builder, select);
}

export interface Drawn {
  readonly text: string;
  readonly draft: Draft;
  readonly diagrams: readonly CascadeDiagram[];
  /** How long it took to understand and to lay out [ms]. */
  readonly tookMs: number;
}

/** The draft as it is typed: understood and laid out at each key; diagrams that didn't change stay the same objects. */
export function useDrawn(): Drawn {
  const text = useBuilder((state) => state.text);
  const before = useRef<readonly CascadeDiagram[]>([]);
  return useMemo(() => {
    const began = performance.now();
    const draft = parseDraft(text);
    const diagrams = sameDiagrams(before.current, draftDiagram(draft));
    before.current = diagrams;
    return { text, draft, diagrams, tookMs: performance.now() - began };
  }, [text]);
}

/** After the last key [ms]: a key's own picture comes first, the plan as a whole may take more than a frame. */
const AFTER_A_KEY_MS = 60;

/** The plan of the draft, a moment after the last key. @returns of: the draft that it is of; current: whether that is the present one */
export function useDrafted(draft: Draft): {
  readonly of: Draft;
  readonly drafted: DraftedPlan;
  readonly current: boolean;
} {
  const [found, setFound] = useState(() => ({ of: draft, drafted: planOfDraft(draft) }));
  useEffect(() => {
    if (found.of === draft) return;
    const timer = setTimeout(() => setFound({ of: draft, drafted: planOfDraft(draft) }), AFTER_A_KEY_MS);
    return () => clearTimeout(timer);
  }, [draft, found]);
  return { of: found.of, drafted: found.drafted, current: found.of === draft };
}
