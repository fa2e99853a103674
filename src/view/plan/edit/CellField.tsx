/** The field over the active cell: a key replaces its text, F2 changes it; arrows, Enter and Tab go on. */
import { type ClipboardEvent, type KeyboardEvent, useId, useLayoutEffect, useRef, useState } from "react";
import type { Problem } from "../../../plan/model.ts";
import { say } from "../../../words/index.ts";
import type { Cell } from "../../model/edit-tables.ts";
import styles from "./Edit.module.css";
import { editor, useEditor } from "./editor.ts";

/** `on`: the cell as a whole. `typed`: its text is being replaced. `in`: its text is being changed, arrows move within. */
type Mode = "on" | "typed" | "in";

const MOST_OPTIONS = 60;

export function CellField(props: {
  readonly cell: Cell;
  readonly row: string;
  readonly problems: readonly Problem[];
  /** In the column that stays where it is. */
  readonly fixed: boolean;
  readonly box: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  };
  readonly optionsAbove: boolean;
  /** Rows that page up and down go. */
  readonly page: number;
  readonly options: (cell: Cell) => readonly string[];
  readonly first: boolean;
  readonly last: boolean;
  readonly go: (down: number, across: number) => void;
  readonly onPaste: (text: string) => void;
}) {
  const { cell, box, go } = props;
  const typing = useEditor((state) => (state.typing?.cell.at === cell.at ? state.typing : undefined));
  const focusRequest = useEditor((state) => state.focusRequest);
  const input = useRef<HTMLInputElement>(null);
  const asked = useRef(-1);
  const leaving = useRef(false);
  const [mode, setMode] = useState<Mode>("on");
  const [lit, setLit] = useState(-1);
  const id = useId();
  const text = typing?.text ?? cell.text;

  // biome-ignore lint/correctness/useExhaustiveDependencies: another cell, or another text in it, begins as a whole
  useLayoutEffect(() => {
    const element = input.current;
    if (element === null) return;
    if (asked.current !== focusRequest) element.focus({ preventScroll: true });
    asked.current = focusRequest;
    if (editor.getState().typing !== undefined) return;
    setMode("on");
    setLit(-1);
    leaving.current = false;
    if (document.activeElement === element) element.select();
  }, [cell.at, cell.text, focusRequest]);

  const open = cell.options !== undefined && mode !== "on";
  const all = open ? props.options(cell) : [];
  const typed = typing?.text.trim().toLocaleLowerCase() ?? "";
  const options = all
    .filter((option) => typed === "" || option.toLocaleLowerCase().includes(typed))
    .slice(0, MOST_OPTIONS);

  const type = (next: string): void => editor.getState().type(cell, next);
  const take = (option: string): void => {
    type(option);
    editor.getState().settle();
    setMode("on");
    input.current?.select();
  };
  const change = (): void => {
    if (cell.derived) return;
    setMode("in");
    const length = input.current?.value.length ?? 0;
    input.current?.setSelectionRange(length, length);
  };

  const keyed = (event: KeyboardEvent): void => {
    const { key, shiftKey, ctrlKey, metaKey, altKey } = event;
    const done = (act: () => void): void => {
      event.preventDefault();
      act();
    };
    const left = leaving.current;
    leaving.current = false;
    if (event.nativeEvent.isComposing) return;
    if (altKey && key === "ArrowDown") return done(change);
    if ((ctrlKey || metaKey) && key !== "Home" && key !== "End") return;
    const far = ctrlKey || metaKey ? 1e6 : 0;
    switch (key) {
      case "Escape":
        return done(() => {
          event.stopPropagation();
          leaving.current = mode === "on" && typing === undefined;
          editor.getState().unsettle();
          setMode("on");
          setLit(-1);
          requestAnimationFrame(() => input.current?.select());
        });
      case "Enter": {
        const option = options[lit];
        return done(() => {
          if (option !== undefined) take(option);
          go(shiftKey ? -1 : 1, 0);
        });
      }
      case "Tab":
        if (left || (shiftKey ? props.first : props.last)) return;
        return done(() => go(0, shiftKey ? -1 : 1));
      case "ArrowDown":
      case "ArrowUp": {
        const step = key === "ArrowDown" ? 1 : -1;
        if (open && options.length > 0)
          return done(() => setLit((lit + step + options.length + 1) % (options.length + 1)));
        return done(() => go(step, 0));
      }
      case "ArrowLeft":
      case "ArrowRight":
        if (mode === "in") return;
        return done(() => go(0, key === "ArrowRight" ? 1 : -1));
      case "PageDown":
      case "PageUp":
        return done(() => go(key === "PageDown" ? props.page : -props.page, 0));
      case "Home":
      case "End":
        if (mode !== "on") return;
        return done(() => (key === "Home" ? go(-far, -1000) : go(far, 1000)));
      case "F2":
        return done(change);
      case "Delete":
      case "Backspace":
        if (mode !== "on" || cell.derived) return;
        return done(() => {
          type("");
          editor.getState().settle();
        });
    }
  };

  const pasted = (event: ClipboardEvent): void => {
    const block = event.clipboardData.getData("text/plain");
    if (mode !== "on" && !/[\t\n\r]/.test(block)) return;
    event.preventDefault();
    props.onPaste(block);
  };

  const described = props.problems.length > 0 ? `${id}-problem` : undefined;
  return (
    <div className={styles.over} data-fixed={props.fixed || undefined}>
      <input
        ref={input}
        className={styles.field}
        data-cell={cell.at}
        data-mode={mode}
        data-numeric={cell.kind !== "text" || undefined}
        style={props.fixed ? { ...box, left: 0 } : box}
        type="text"
        inputMode={cell.kind === "text" ? "text" : "decimal"}
        autoComplete="off"
        autoCapitalize="off"
        spellCheck={false}
        readOnly={cell.derived}
        value={text}
        aria-label={say(cell.derived ? "edit.cell.derived" : "edit.cell", {
          row: props.row,
          label: cell.label,
        })}
        aria-invalid={props.problems.some(({ severity }) => severity === "error") || undefined}
        aria-describedby={described}
        {...(cell.options === undefined
          ? {}
          : {
              role: "combobox",
              "aria-expanded": open && options.length > 0,
              "aria-controls": `${id}-options`,
              "aria-activedescendant": lit >= 0 && open ? `${id}-${lit}` : undefined,
            })}
        onChange={(event) => {
          if (mode === "on") setMode("typed");
          setLit(-1);
          type(event.target.value);
        }}
        onKeyDown={keyed}
        onDoubleClick={change}
        onPaste={pasted}
        onBlur={() => {
          editor.getState().settle();
          setMode("on");
        }}
      />
      {described === undefined ? null : (
        <span id={described} className="unseen">
          {props.problems.map(({ message }) => message).join(" ")}
        </span>
      )}
      {open && options.length > 0 ? (
        <div
          id={`${id}-options`}
          role="listbox"
          aria-label={say("edit.options")}
          className={styles.options}
          data-above={props.optionsAbove || undefined}
          style={{
            left: props.fixed ? 0 : box.left,
            top: props.optionsAbove ? box.top : box.top + box.height,
            minWidth: box.width,
          }}
        >
          {options.map((option, place) => (
            <div
              key={option}
              id={`${id}-${place}`}
              role="option"
              tabIndex={-1}
              aria-selected={place === lit}
              ref={place === lit ? (element) => element?.scrollIntoView({ block: "nearest" }) : undefined}
              onPointerDown={(event) => {
                event.preventDefault();
                take(option);
              }}
            >
              {option}
            </div>
          ))}
        </div>
      ) : null}
    </div>
  );
}
