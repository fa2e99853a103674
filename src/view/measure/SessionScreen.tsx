/** A session at work: which line is next, the number for it, what is thought of the number, and on. */
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import { keyOfTarget, progressOf, type Step, sayNext, targetState } from "../../readings/session/index.ts";
import { lengthUnitName, say, speech } from "../../words/index.ts";
import { phraseText, readingText } from "../model/measure-told.ts";
import { COMMAND_KEYS, type Command } from "../model/measure-typed.ts";
import { useMedia, useWide } from "../parts/hooks.ts";
import type { Document } from "../state/document.ts";
import type { KeptSession } from "../state/measure.ts";
import {
  expectedNow,
  isInPlan,
  measure,
  takeTyped,
  useJudge,
  useLit,
  useMeasure,
  useWays,
} from "../state/measure-app.ts";
import { onMeterLine, useMeter } from "../state/measure-meter.ts";
import { KeepingNote } from "./KeepingNote.tsx";
import { Overview } from "./Overview.tsx";
import { Pad } from "./Pad.tsx";
import { ProgressLine } from "./ProgressPart.tsx";
import { askingOf, Prompt } from "./Prompt.tsx";
import { Said } from "./Said.tsx";
import styles from "./Session.module.css";
import { GoToSheet, NoteSheet } from "./Sheets.tsx";
import { hush, sound, speakAloud } from "./sound.ts";
import { ENTRY_FIELD, useKeys, useLitScreen } from "./useKeys.ts";
import { WayOut } from "./WayOut.tsx";

/** What stands under the field, in this order. */
const ACTIONS: readonly Command[] = ["undo", "skip", "repeat", "note", "go to", "map"];

export function SessionScreen({
  document,
  kept,
}: {
  readonly document: Document;
  readonly kept: KeptSession;
}) {
  const { plan } = document;
  const { session } = kept;
  const { next, last } = session.state;
  const judge = useJudge(document, session);
  const ways = useWays();
  const wide = useWide();
  const hasKeys = useMedia("(any-pointer: fine)");
  const field = useMeasure((state) => state.field);
  const isRepeating = useMeasure((state) => state.repeating) && last !== undefined;
  const told = useMeasure((state) => state.told);
  const meter = useMeter();
  const [sheet, setSheet] = useState<"note" | "go to">();
  const [isMapOpen, setMapOpen] = useState(false);
  const entry = useRef<HTMLInputElement>(null);
  const progress = useMemo(() => progressOf(session), [session]);

  const lastStep =
    last && session.state.order.steps.find(({ target }) => keyOfTarget(target) === keyOfTarget(last));
  const step: Step | undefined = isRepeating && last ? { target: last, row: lastStep?.row ?? "A" } : next;
  useLit(plan, step?.target);
  useLitScreen();

  // The session begins at its top, wherever the form was left.
  useEffect(() => {
    window.document.getElementById("pane")?.scrollTo({ top: 0 });
  }, []);
  const readOn = useCallback(() => entry.current?.focus({ preventScroll: true }), []);
  useEffect(() => {
    if (sheet === undefined) readOn();
  }, [sheet, readOn]);

  const submit = (): void => takeTyped(measure.getState().field, session, judge);
  const act = (command: Command): void => {
    const state = measure.getState();
    switch (command) {
      case "undo":
        return void state.undo();
      case "skip":
        return void state.skip();
      case "repeat":
        if (last !== undefined) state.setRepeating(!state.repeating);
        return;
      case "keep":
        return void state.keepAsRead(judge);
      case "map":
        return setMapOpen(!isMapOpen);
      case "note":
      case "go to":
        return setSheet(command);
    }
  };
  useKeys({ submit, undo: () => act("undo"), command: act });

  const latest = useRef({ session, judge });
  latest.current = { session, judge };
  useEffect(() => onMeterLine((text) => takeTyped(text, latest.current.session, latest.current.judge)), []);

  const asking =
    step === undefined ? "first" : askingOf(targetState(session.state, step.target), isRepeating);
  const key = step === undefined ? "" : keyOfTarget(step.target);
  const { isSpoken, hasTones } = ways;
  // biome-ignore lint/correctness/useExhaustiveDependencies: said anew when another line is asked for, or the same again
  useEffect(() => {
    if (isSpoken && !isRepeating) speakAloud(phraseText(sayNext(session)), speech().locale);
    return hush;
  }, [key, asking, isSpoken, session.journal.length]);
  const heard = useRef(told?.turn);
  useEffect(() => {
    if (told === undefined || heard.current === told.turn) return;
    heard.current = told.turn;
    if (!hasTones || told.kind !== "entered") return;
    const { level } = told.verdict;
    sound(level === "fine" ? "taken" : level === "doubtful" ? "doubtful" : "not taken");
  }, [told, hasTones]);

  const expected = useMemo(
    () => (step !== undefined && ways.showsExpected ? expectedNow(session, judge, step.target) : undefined),
    [step, session, judge, ways.showsExpected],
  );
  const steps = useMemo(
    () => stepsToGoTo(document, session.state.order.steps),
    [document, session.state.order],
  );

  const showsMap = wide || isMapOpen;
  const showsWork = wide || !isMapOpen;
  return (
    <div className={styles.session} data-measure="session" data-asked={key} data-read={progress.read}>
      <KeepingNote />
      <ProgressLine progress={progress} />
      {showsWork ? (
        <>
          {step === undefined ? (
            <div className={styles.done} data-done>
              <h2>{phraseText(sayNext(session))}</h2>
            </div>
          ) : (
            <>
              <Prompt
                step={step}
                asking={asking}
                isKnown={isInPlan(plan, session, step.target)}
                notes={targetState(session.state, step.target).notes}
              />
              <div className={styles.entry}>
                <input
                  ref={entry}
                  type="text"
                  inputMode="none"
                  data-input={ENTRY_FIELD}
                  autoComplete="off"
                  autoCorrect="off"
                  spellCheck={false}
                  enterKeyHint="done"
                  aria-label={say("measure.entry.label", {
                    kind: step.target.kind,
                    id: step.target.id,
                    side: step.target.side,
                    unit: lengthUnitName(),
                  })}
                  value={field}
                  onChange={({ target }) => measure.getState().setField(target.value)}
                />
                <span className={styles.unit}>{lengthUnitName()}</span>
                {expected === undefined ? null : (
                  <span className={styles.expected} data-expected>
                    {say("measure.expected", {
                      length: readingText(Math.round(expected.valueM * 1000) / 1000),
                    })}
                  </span>
                )}
              </div>
            </>
          )}
          <Said session={session} judge={judge} onRead={readOn} showsKeys={hasKeys && wide} />
          {step === undefined ? <WayOut kept={kept} progress={progress} /> : null}
          <div className={styles.actions} role="group" aria-label={say("measure.actions")}>
            {ACTIONS.filter((name) => !(wide && name === "map")).map((name) => (
              <ActionButton
                key={name}
                name={name}
                showsKey={hasKeys && wide}
                pressed={name === "repeat" ? isRepeating : undefined}
                disabled={
                  name === "repeat" ? last === undefined : name === "skip" ? next === undefined : false
                }
                onClick={() => act(name)}
              />
            ))}
          </div>
          {meter.state === "connected" || meter.state === "gone" ? (
            <p className={styles.meter} data-meter-line={meter.state}>
              {meter.state === "connected"
                ? say("measure.meter.connected", { name: meter.name, lines: meter.lines })
                : say("measure.meter.gone", { name: meter.name })}
            </p>
          ) : null}
          {step === undefined ? null : <Pad onTake={submit} canTake={field.trim() !== ""} />}
          {wide ? <p className={styles.help}>{say("measure.help")}</p> : null}
        </>
      ) : (
        <p>
          <button
            type="button"
            className={styles.backToWork}
            data-action="back to reading"
            onClick={() => setMapOpen(false)}
          >
            {say("measure.map.back")}
          </button>
        </p>
      )}
      {showsMap ? (
        <Overview
          kept={kept}
          plan={plan}
          progress={progress}
          hasWayOut={step !== undefined || !showsWork}
          onGone={() => setMapOpen(false)}
        />
      ) : null}
      {sheet === "note" ? <NoteSheet session={session} onClose={() => setSheet(undefined)} /> : null}
      {sheet === "go to" ? <GoToSheet steps={steps} onClose={() => setSheet(undefined)} /> : null}
    </div>
  );
}

function ActionButton(props: {
  readonly name: Command;
  readonly showsKey: boolean;
  readonly pressed: boolean | undefined;
  readonly disabled: boolean;
  readonly onClick: () => void;
}) {
  const { name, showsKey, pressed, disabled, onClick } = props;
  return (
    <button
      type="button"
      data-action={name}
      aria-pressed={pressed}
      aria-keyshortcuts={COMMAND_KEYS[name]}
      disabled={disabled}
      onClick={onClick}
    >
      {say("measure.action", { action: name })}
      {showsKey ? <kbd>{COMMAND_KEYS[name].toUpperCase()}</kbd> : null}
    </button>
  );
}

/** The session's own lines first, then whatever else the plan has. */
function stepsToGoTo({ plan }: Document, own: readonly Step[]): readonly Step[] {
  const known = new Set(own.map(({ target }) => keyOfTarget(target)));
  const tabs = plan.tabs.map(({ id, side, row }): Step => ({ target: { kind: "tab", id, side }, row }));
  const lines = plan.lines.flatMap(({ id, side, row, lengthAssumed }): readonly Step[] =>
    lengthAssumed ? [] : [{ target: { kind: "line", id, side }, row }],
  );
  return [...own, ...[...tabs, ...lines].filter(({ target }) => !known.has(keyOfTarget(target)))];
}
