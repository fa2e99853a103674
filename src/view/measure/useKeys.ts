/** Keys anywhere on the page while a session is on the screen: a meter that types must never type into the void. */
import { useEffect, useRef } from "react";
import { type Command, METER_GAP_MS, meaningOf } from "../model/measure-typed.ts";
import { measure } from "../state/measure-app.ts";

export interface KeyActs {
  readonly submit: () => void;
  readonly undo: () => void;
  readonly command: (command: Command) => void;
}

/** Marks the session's own field: keys on it are taken here too. */
export const ENTRY_FIELD = "reading";

/** Another field for text, where keys belong to it. */
function isOtherField(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.dataset.input === ENTRY_FIELD) return false;
  if (target.isContentEditable || /^(TEXTAREA|SELECT)$/.test(target.tagName)) return true;
  return target instanceof HTMLInputElement && !/^(radio|checkbox|button|range)$/.test(target.type);
}

const isOnControl = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  target.dataset.input !== ENTRY_FIELD &&
  target.closest("button, a, summary, input, [role=tab]") !== null;

/** The longest paste that may be a reading [characters]. */
const LONGEST_PASTE = 60;

export function useKeys(acts: KeyActs): void {
  const latest = useRef(acts);
  latest.current = acts;
  useEffect(() => {
    let lastMs = Number.NEGATIVE_INFINITY;
    let waiting: { timer: ReturnType<typeof setTimeout>; text: string; at: EventTarget | null } | undefined;

    const type = (text: string): void => {
      const { field, setField } = measure.getState();
      setField(field + text);
      const entry = document.querySelector<HTMLElement>(`[data-input="${ENTRY_FIELD}"]`);
      if (document.activeElement !== entry) entry?.focus({ preventScroll: true });
    };
    /** A command key that another key follows at once was a meter's word. */
    const settle = (): void => {
      if (waiting === undefined) return;
      clearTimeout(waiting.timer);
      const { text } = waiting;
      waiting = undefined;
      type(text);
    };

    const onKey = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.isComposing) return;
      if (document.querySelector("dialog[open]") !== null || isOtherField(event.target)) return;
      // What a key is held down for is nobody's reading.
      if (event.repeat && event.key !== "Backspace") {
        if ([...event.key].length === 1 || event.key === "Enter") event.preventDefault();
        return;
      }
      if (/^(Shift|Control|Alt|AltGraph|Meta|CapsLock|NumLock)$/.test(event.key)) return;
      const sinceMs = event.timeStamp - lastMs;
      lastMs = event.timeStamp;
      settle();
      const { field, setField } = measure.getState();
      const pressed = {
        key: event.key,
        ctrl: event.ctrlKey || event.metaKey,
        alt: event.altKey && !event.getModifierState("AltGraph"),
      };
      const meaning = meaningOf(pressed, field, sinceMs, isOnControl(event.target));
      if (meaning.do === "leave") {
        // With nothing typed, Enter in the field does nothing: a meter's second line end must not press anything.
        if (event.key === "Enter" && !isOnControl(event.target)) event.preventDefault();
        return;
      }
      event.preventDefault();
      switch (meaning.do) {
        case "type":
          return type(meaning.text);
        case "erase":
          return setField([...field].slice(0, -1).join(""));
        case "clear":
          return setField("");
        case "submit":
          return latest.current.submit();
        case "undo":
          return latest.current.undo();
        case "command": {
          const { command, text } = meaning;
          const timer = setTimeout(() => {
            waiting = undefined;
            latest.current.command(command);
          }, METER_GAP_MS);
          waiting = { timer, text, at: event.target };
        }
      }
    };

    const onPaste = (event: ClipboardEvent): void => {
      if (event.defaultPrevented || isOtherField(event.target)) return;
      if (document.querySelector("dialog[open]") !== null) return;
      const text = event.clipboardData?.getData("text/plain").trim() ?? "";
      if (text === "" || text.length > LONGEST_PASTE || /[\t\r\n]/.test(text) || !/\d/.test(text)) return;
      event.preventDefault();
      type(text);
    };

    window.addEventListener("keydown", onKey, { capture: true });
    window.addEventListener("paste", onPaste, { capture: true });
    return () => {
      if (waiting !== undefined) clearTimeout(waiting.timer);
      window.removeEventListener("keydown", onKey, { capture: true });
      window.removeEventListener("paste", onPaste, { capture: true });
    };
  }, []);
}

/** Keeps the screen lit as long as a session is on it, where the browser can. */
export function useLitScreen(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | undefined;
    let isOver = false;
    const ask = async (): Promise<void> => {
      if (isOver || document.visibilityState !== "visible") return;
      try {
        lock = await navigator.wakeLock?.request("screen");
        if (isOver) await lock?.release();
      } catch {
        // A battery that runs low may forbid it.
      }
    };
    const again = (): void => void ask();
    void ask();
    document.addEventListener("visibilitychange", again);
    return () => {
      isOver = true;
      document.removeEventListener("visibilitychange", again);
      void lock?.release().catch(() => undefined);
    };
  }, []);
}
