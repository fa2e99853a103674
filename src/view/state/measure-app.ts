/** This page's reading sessions, how the person wants them to be, and what ties them to the wing on the screen. */
import { useEffect, useMemo } from "react";
import { useStore } from "zustand";
import { createStore } from "zustand/vanilla";
import { plausibleNow } from "../../diagnosis/session/index.ts";
import type { Wing } from "../../plan/model.ts";
import { expectedReadingM } from "../../readings/corrections.ts";
import { lookUp } from "../../readings/lookup.ts";
import type { Target } from "../../readings/model.ts";
import {
  checkOf,
  type Expected,
  type Judge,
  journalText,
  keyOfTarget,
  type Session,
  soFar,
} from "../../readings/session/index.ts";
import { writeCheckJson } from "../../readings/write.ts";
import { speech } from "../../words/index.ts";
import { inTheSessionsUnit } from "../model/measure-typed.ts";
import { app, shelf, useApp } from "./app.ts";
import { NOTHING, READING } from "./choices.ts";
import type { Document } from "./document.ts";
import { createMeasureStore, type KeptSession, type MeasureState, wingKey } from "./measure.ts";
import { browserShelves } from "./measure-journal.ts";
import { bringAsking } from "./recheck.ts";

const ACTIVE = "linewright.measure.active";
const WAYS = "linewright.measure.ways";

function putAside(place: string, text: string | undefined): void {
  try {
    if (text === undefined) shelf?.removeItem(place);
    else shelf?.setItem(place, text);
  } catch {
    // It holds as long as the page then.
  }
}

export const measure = createMeasureStore({
  shelves: browserShelves(shelf),
  active: {
    get: () => shelf?.getItem(ACTIVE) ?? undefined,
    set: (id) => putAside(ACTIVE, id),
  },
});

export function useMeasure<T>(select: (state: MeasureState) => T): T {
  return useStore(measure, select);
}

/** How the person wants to be asked. */
export interface Ways {
  readonly isSpoken: boolean;
  readonly hasTones: boolean;
  /** Off at first: who knows what should come reads it more easily. */
  readonly showsExpected: boolean;
}

function keptWays(): Ways {
  const usual: Ways = { isSpoken: false, hasTones: true, showsExpected: false };
  try {
    const found = JSON.parse(shelf?.getItem(WAYS) ?? "{}") as Partial<Record<keyof Ways, unknown>>;
    const one = (name: keyof Ways): boolean =>
      typeof found[name] === "boolean" ? (found[name] as boolean) : usual[name];
    return {
      isSpoken: one("isSpoken"),
      hasTones: one("hasTones"),
      showsExpected: one("showsExpected"),
    };
  } catch {
    return usual;
  }
}

const ways = createStore<Ways>()(keptWays);

export function useWays(): Ways {
  return useStore(ways);
}

export function chooseWays(change: Partial<Ways>): void {
  ways.setState(change);
  putAside(WAYS, JSON.stringify(ways.getState()));
}

/** The session that is gone on with, where it is one of the wing on the screen. */
export function useActive(): KeptSession | undefined {
  const key = useApp(({ document }) => (document === undefined ? undefined : wingKey(document.plan)));
  return useMeasure(({ sessions, activeId }) =>
    sessions.find(({ card }) => card.id === activeId && card.wing === key && card.letGoMs === undefined),
  );
}

/** Weighs numbers as they are typed; a check before this session says what was off then. */
export function useJudge(document: Document, session: Session): Judge {
  const { plan, check } = document;
  const { date } = session.state.frame;
  return useMemo(() => {
    const last = check !== undefined && check.date < date ? check : undefined;
    return plausibleNow(plan, last === undefined ? {} : { lastCheck: last });
  }, [plan, check, date]);
}

/** What the line asked for should read; undefined where the plan doesn't have it. */
export function expectedNow(session: Session, judge: Judge, target: Target): Expected | undefined {
  return judge.expected(soFar(session), target);
}

/** Takes a text in the person's unit. */
export function takeTyped(text: string, session: Session, judge: Judge): void {
  const target = measure.getState().repeating ? session.state.last : session.state.next?.target;
  const expected = target && expectedNow(session, judge, target);
  void measure.getState().take(inTheSessionsUnit(text, speech().unit, expected), judge);
}

/** Whether the plan has such a tab or line, with a length. */
export function isInPlan(plan: Wing, session: Session, target: Target): boolean {
  return expectedReadingM(lookUp(plan), target, session.state.frame) !== undefined;
}

/** Lines of a path, or the line itself: what is lit for a target. */
export function linesOfTarget(plan: Wing, target: Target): readonly string[] {
  if (target.kind === "line")
    return plan.lines.flatMap(({ id, side, key }) => (id === target.id && side === target.side ? [key] : []));
  const tab = plan.tabs.find(({ id, side }) => id === target.id && side === target.side);
  return plan.paths.find(({ tabKey }) => tabKey === tab?.key)?.lineKeys ?? [];
}

/** Lights the line asked for in the 3D as long as the session is on the screen. */
export function useLit(plan: Wing, target: Target | undefined): void {
  const key = target && keyOfTarget(target);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key names the target
  useEffect(() => {
    const keys = target === undefined ? [] : linesOfTarget(plan, target);
    app.getState().choose({ picked: keys.length === 0 ? NOTHING : { kind: "lines", by: READING, keys } });
  }, [plan, key]);
  useEffect(
    () => () => {
      const { choices, choose } = app.getState();
      if (choices.picked.kind === "lines" && choices.picked.by === READING) choose({ picked: NOTHING });
    },
    [],
  );
}

const plainName = (text: string): string => text.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/gu, "");

/** A name for what is written of a session: wing, day, and what it is. */
export function fileName({ card, session }: KeptSession, end: string): string {
  return `${plainName(card.wingName)}-${session.state.frame.date}.${end}`;
}

/** Hands the readings on as a check: with the wing's, or after the work, as the person says there. */
export async function handOn(kept: KeptSession): Promise<void> {
  const text = writeCheckJson(checkOf(kept.session));
  await measure.getState().handedOn(kept.card.id);
  bringAsking([{ name: fileName(kept, "check.json"), text }]);
}

export function journalFile(kept: KeptSession): { readonly name: string; readonly text: string } {
  return { name: fileName(kept, "session.jsonl"), text: journalText(kept.session) };
}
