/** Every line of the wing: search, walk with the arrow keys, pick. */
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { say } from "../../words/index.ts";
import { rowName, signedMm } from "../model/format.ts";
import { findLines, lineEntries } from "../model/lineTable.ts";
import { passes } from "../model/picked.ts";
import { MarkTape } from "../parts/MarkTape.tsx";
import { pickLine, useApp, usePickedLines, useRangeM } from "../state/app.ts";
import styles from "./Panes.module.css";
import { TrialList } from "./TrialList.tsx";

export function LinesPane({ analysis }: { readonly analysis: Analysis }) {
  const cascade = useApp((state) => state.document?.cascade);
  const rows = useApp(({ choices }) => choices.rows);
  const sides = useApp(({ choices }) => choices.sides);
  const picked = useApp(({ choices }) => choices.picked);
  const hover = useApp((state) => state.hover);
  const hovered = useApp((state) => state.hovered);
  const lines = usePickedLines();
  const rangeM = useRangeM();
  const [query, setQuery] = useState("");
  const list = useRef<HTMLUListElement>(null);

  const entries = useMemo(
    () => (cascade === undefined ? [] : lineEntries(analysis, cascade)),
    [analysis, cascade],
  );
  const found = useMemo(
    () => findLines(entries, query).filter((entry) => passes(entry, rows, sides)),
    [entries, query, rows, sides],
  );
  const pickedKey = picked.kind === "line" ? picked.key : undefined;
  const stop = found.some((entry) => entry.key === pickedKey) ? pickedKey : found[0]?.key;

  useEffect(() => {
    if (pickedKey === undefined) return;
    list.current
      ?.querySelector(`[data-line="${CSS.escape(pickedKey)}"]`)
      ?.scrollIntoView({ block: "nearest" });
  }, [pickedKey]);

  const walk = (event: KeyboardEvent, from: number): void => {
    const to = { ArrowDown: from + 1, ArrowUp: from - 1, Home: 0, End: found.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    list.current
      ?.querySelectorAll<HTMLElement>("button")
      [Math.max(0, Math.min(found.length - 1, to))]?.focus();
  };

  return (
    <div className={styles.pane}>
      <div className={styles.top} data-sticky>
        <TrialList />
        <div className={styles.search}>
          <label htmlFor="line-search">{say("panes.lines.find")}</label>
          <input
            id="line-search"
            type="search"
            placeholder={say("panes.lines.find.by")}
            autoComplete="off"
            spellCheck={false}
            value={query}
            onChange={(event) => setQuery(event.target.value)}
            onKeyDown={(event) => {
              if (event.key === "Enter" && found[0] !== undefined && found[0].key !== pickedKey)
                pickLine(found[0].key);
              if (event.key === "ArrowDown") walk(event, -1);
            }}
          />
          <output>
            {found.length < entries.length
              ? say("panes.lines.count.of", { count: found.length, total: entries.length })
              : say("panes.lines.count", { count: found.length })}
          </output>
        </div>
      </div>
      <ul ref={list} className={styles.lines} data-table="lines">
        {found.map((entry, index) => (
          <li key={entry.key}>
            <button
              type="button"
              className={styles.line}
              data-line={entry.key}
              data-picked={lines.has(entry.key) || undefined}
              data-lit={hovered === entry.key || undefined}
              aria-pressed={pickedKey === entry.key}
              tabIndex={entry.key === stop ? 0 : -1}
              onClick={() => pickLine(entry.key)}
              onKeyDown={(event) => walk(event, index)}
              onPointerEnter={() => hover(entry.key)}
              onPointerLeave={() => hover(undefined)}
              onFocus={() => hover(entry.key)}
              onBlur={() => hover(undefined)}
            >
              <span className={styles.lineName}>{entry.id}</span>
              <span className={styles.lineWhat}>
                {say("panes.line.what", { side: entry.side, tier: entry.tier })}
                <small>
                  {say("panes.line.carries", { row: rowName(entry.row), carries: entry.carries })}
                </small>
              </span>
              <span className={styles.lineTape}>
                {entry.deviationM === undefined ? null : (
                  <MarkTape
                    marks={[{ key: entry.key, side: undefined, deviationM: entry.deviationM }]}
                    extentM={rangeM}
                    toleranceM={undefined}
                    height={16}
                  />
                )}
              </span>
              <span className={styles.lineFigure}>{signedMm(entry.deviationM)}</span>
            </button>
          </li>
        ))}
      </ul>
      {found.length === 0 ? <p className={styles.note}>{say("panes.lines.none", { query })}</p> : null}
    </div>
  );
}
