/** Finds a line by what is known of it; each answer says why it is one. */
import { useId, useMemo, useState } from "react";
import type { Line, Wing } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { findLines, saySide } from "../../workshop/index.ts";
import { sayFoundBy } from "../model/workshop-replace.ts";
import { useApp } from "../state/app.ts";
import styles from "./Damaged.module.css";

const FIRST = 8;

export function DamagedSearch(props: {
  readonly wing: Wing;
  readonly label: string;
  readonly pickedKey: string | undefined;
  /** Whether an empty search shows all lines. */
  readonly listAll: boolean;
  readonly onPick: (line: Line) => void;
}) {
  const { wing, pickedKey, listAll, onPick } = props;
  const id = useId();
  const [query, setQuery] = useState("");
  const [all, setAll] = useState(false);
  const hover = useApp((state) => state.hover);
  const hovered = useApp((state) => state.hovered);
  const cascade = useApp((state) => state.document?.cascade);
  const asked = query.trim() !== "";
  const found = useMemo(
    () => (asked || listAll ? findLines(wing, query) : []),
    [wing, query, asked, listAll],
  );
  const shown = all ? found : found.slice(0, FIRST);
  const tabIds = (line: Line): readonly string[] =>
    (cascade?.tabsAbove.get(line.key) ?? []).map((key) => cascade?.tabs.get(key)?.id ?? key);
  const pick = (line: Line): void => {
    onPick(line);
    setQuery("");
    setAll(false);
  };
  return (
    <div className={styles.search} data-part="search">
      <label htmlFor={id}>{props.label}</label>
      <input
        id={id}
        type="search"
        autoComplete="off"
        spellCheck={false}
        placeholder={say("replace.search.example")}
        value={query}
        onChange={(event) => {
          setQuery(event.target.value);
          setAll(false);
        }}
        onKeyDown={(event) => {
          if (event.key === "Enter" && asked && found[0] !== undefined) pick(found[0].line);
        }}
      />
      {asked ? (
        <output className={styles.soft}>
          {found.length === 0
            ? say("replace.search.none")
            : say("replace.search.found", { count: found.length })}
        </output>
      ) : null}
      {shown.length === 0 ? null : (
        <ul className={styles.found} data-list="found">
          {shown.map(({ line, by }) => (
            <li key={line.key}>
              <button
                type="button"
                data-line={line.key}
                data-lit={hovered === line.key || undefined}
                aria-pressed={pickedKey === line.key}
                onClick={() => pick(line)}
                onPointerEnter={() => hover(line.key)}
                onPointerLeave={() => hover(undefined)}
                onFocus={() => hover(line.key)}
                onBlur={() => hover(undefined)}
              >
                <b>
                  {line.id} <small>{saySide(line.side)}</small>
                </b>
                <span>{sayFoundBy(by, line, tabIds(line))}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {found.length > shown.length ? (
        <button type="button" className={styles.link} onClick={() => setAll(true)}>
          {say("replace.search.all", { count: found.length })}
        </button>
      ) : null}
    </div>
  );
}
