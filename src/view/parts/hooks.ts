/** Small observers of the page: its width, an element's size, a key pressed outside a text field. */
import { type RefObject, useEffect, useLayoutEffect, useRef, useState, useSyncExternalStore } from "react";

/** Whether a media query holds, kept up to date; while it is printed as before, so that paper shows what the screen did. */
export function useMedia(query: string): boolean {
  const before = useRef<boolean>(undefined);
  return useSyncExternalStore(
    (changed) => {
      const list = matchMedia(query);
      list.addEventListener("change", changed);
      return () => list.removeEventListener("change", changed);
    },
    () => {
      if (before.current === undefined || !matchMedia("print").matches)
        before.current = matchMedia(query).matches;
      return before.current;
    },
  );
}

/** Room for the stage, the charts and the panes beside each other. The style sheets use the same numbers. */
export function useWide(): boolean {
  return useMedia("(min-width: 1360px) and (min-height: 820px)");
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** The content size of an element in CSS pixels. */
export function useSize<T extends HTMLElement>(): [RefObject<T | null>, Size] {
  const ref = useRef<T>(null);
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const observer = new ResizeObserver(([entry]) => {
      if (entry !== undefined) setSize({ width: entry.contentRect.width, height: entry.contentRect.height });
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [ref, size];
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName))
  );
}

/** Calls `pressed` for plain keys pressed outside text fields and dialogs. */
export function useShortcuts(pressed: (key: string, event: KeyboardEvent) => void): void {
  const latest = useRef(pressed);
  latest.current = pressed;
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key !== "Escape" && isTyping(event.target)) return;
      if (document.querySelector("dialog[open]") !== null) return;
      latest.current(event.key, event);
    };
    window.addEventListener("keydown", listen);
    return () => window.removeEventListener("keydown", listen);
  }, []);
}

/** Ctrl or Cmd with Z, and with Shift and Z (or Y); in text fields the browser's own undo stays. */
export function useUndo(undo: () => void, redo: () => void): void {
  const latest = useRef({ undo, redo });
  latest.current = { undo, redo };
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.altKey || !(event.ctrlKey || event.metaKey)) return;
      const key = event.key.toLowerCase();
      if (key !== "z" && key !== "y") return;
      const slider =
        event.target instanceof HTMLInputElement && /^(range|checkbox|radio)$/.test(event.target.type);
      if (isTyping(event.target) && !slider) return;
      event.preventDefault();
      if (key === "y" || event.shiftKey) latest.current.redo();
      else latest.current.undo();
    };
    window.addEventListener("keydown", listen);
    return () => window.removeEventListener("keydown", listen);
  }, []);
}

/** Offers a text, or bytes, to the user as a file. */
export function offerFile(name: string, content: string | Uint8Array<ArrayBuffer>, type: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([content], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
