/** One maillon on one side: the order and the loops, moved by hand or by keys until recorded; then a tick for each line. */
import { Children, type KeyboardEvent, type PointerEvent, useRef, useState } from "react";
import type { Side } from "../../plan/model.ts";
import { longDate, say, sayParts } from "../../words/index.ts";
import {
  cardIn,
  finish,
  keepCard,
  kindName,
  type MaillonCard,
  move,
  recordCard,
  sayCardDifference,
  setLoop,
  startCard,
  tick,
  untick,
} from "../../workshop/index.ts";
import type { ReplaceJob } from "../model/workshop-replace.ts";
import { useApp } from "../state/app.ts";
import { keepInBook, type ReplaceDesk } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import own from "./Maillon.module.css";

export interface MaillonCardProps {
  readonly desk: ReplaceDesk;
  readonly job: ReplaceJob;
  readonly maillonId: string;
  readonly side: Side;
  /** ISO date. */
  readonly today: string;
}

export function MaillonCardPart(props: MaillonCardProps) {
  const { desk, job, maillonId, side, today } = props;
  const { document } = desk;
  const kept = cardIn(document.book, maillonId, side);
  const card = kept ?? startCard(document.loops, maillonId, side);
  const [sure, setSure] = useState(false);
  const keep = (next: MaillonCard): void => keepInBook((book) => keepCard(book, next));
  const anew = (): void => {
    setSure(false);
    const { maillons } = document.book;
    keepInBook((book) => ({
      ...book,
      maillons: maillons.filter((one) => !(one.maillonId === maillonId && one.side === side)),
    }));
  };
  return (
    <section className={styles.section} data-card={`${maillonId} ${side}`}>
      <h3>{say("replace.card.title", { maillon: maillonId, side })}</h3>
      {card.recorded === undefined ? (
        <>
          <Record {...props} card={card} keep={keep} />
          <div className={styles.actions}>
            <button
              type="button"
              className={styles.button}
              data-act="record"
              onClick={() => keep(recordCard(card, today))}
            >
              {say("replace.card.record")}
            </button>
            <span className={styles.soft}>{say("replace.card.dated", { date: longDate(today) })}</span>
          </div>
        </>
      ) : (
        <>
          <p className={styles.text} role="status">
            {say("replace.card.recorded", {
              date: longDate(card.recorded),
              line: job.lines.find(({ line }) => line.side === side)?.line.id ?? job.lineId,
            })}
          </p>
          <Closing {...props} card={card} keep={keep} />
          <div className={styles.actions}>
            {sure ? (
              <>
                <button type="button" className={styles.plain} onClick={anew}>
                  {say("replace.card.anew.sure")}
                </button>
                <button type="button" className={styles.link} onClick={() => setSure(false)}>
                  {say("replace.card.anew.no")}
                </button>
              </>
            ) : (
              <button type="button" className={styles.link} onClick={() => setSure(true)}>
                {say("replace.card.anew")}
              </button>
            )}
          </div>
        </>
      )}
    </section>
  );
}

interface CardPart extends MaillonCardProps {
  readonly card: MaillonCard;
  readonly keep: (card: MaillonCard) => void;
}

/** Names of the lines, and which of them is replaced. */
function useNames({ desk, job }: Pick<MaillonCardProps, "desk" | "job">) {
  const { lines } = desk.document.cascade;
  const replaced = new Set(job.lines.map(({ line }) => line.key));
  return {
    nameOf: (key: string): string => lines.get(key)?.id ?? key,
    colourOf: (key: string): string | undefined => lines.get(key)?.colour,
    isReplaced: (key: string): boolean => replaced.has(key),
    replaced,
  };
}

function Record(props: CardPart) {
  const { card, keep, desk } = props;
  const { nameOf, colourOf, isReplaced } = useNames(props);
  const hover = useApp((state) => state.hover);
  const list = useRef<HTMLOListElement>(null);
  /** While one is drawn along: which, and where it would go. */
  const [drawn, setDrawn] = useState<{ readonly key: string; readonly to: number }>();
  const shown = drawn === undefined ? card : move(card, drawn.key, drawn.to);

  const shift = (key: string, by: number): void => {
    const to = card.order.indexOf(key) + by;
    if (to < 0 || to >= card.order.length) return;
    keep(move(card, key, to));
    // The button goes along with its line.
    requestAnimationFrame(() =>
      list.current?.querySelector<HTMLElement>(`[data-line="${CSS.escape(key)}"] [data-handle]`)?.focus(),
    );
  };
  const walk = (event: KeyboardEvent, key: string): void => {
    const by = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    shift(key, by);
  };
  const placeAt = (clientY: number): number => {
    const rows = [...(list.current?.children ?? [])];
    const below = rows.findIndex((row) => clientY < row.getBoundingClientRect().bottom);
    return below < 0 ? rows.length - 1 : below;
  };
  const drag = (key: string) => ({
    onPointerDown: (event: PointerEvent<HTMLElement>) => {
      if (event.button !== 0) return;
      event.currentTarget.setPointerCapture(event.pointerId);
      setDrawn({ key, to: card.order.indexOf(key) });
    },
    onPointerMove: (event: PointerEvent<HTMLElement>) => {
      if (drawn?.key === key) setDrawn({ key, to: placeAt(event.clientY) });
    },
    onPointerUp: () => {
      if (drawn !== undefined && drawn.to !== card.order.indexOf(drawn.key))
        keep(move(card, drawn.key, drawn.to));
      setDrawn(undefined);
    },
    onPointerCancel: () => setDrawn(undefined),
  });
  return (
    <>
      <p id={`how-${card.maillonId}-${card.side}`} className={styles.soft}>
        {say("replace.card.how")}
      </p>
      <ol ref={list} className={own.bar} data-recording>
        {shown.order.map((key, place) => (
          <li
            key={key}
            data-line={key}
            data-drawn={drawn?.key === key || undefined}
            data-replaced={isReplaced(key) || undefined}
            onPointerEnter={() => hover(key)}
            onPointerLeave={() => hover(undefined)}
          >
            <button
              type="button"
              className={own.handle}
              data-handle
              aria-label={say("replace.card.place", {
                line: nameOf(key),
                place: place + 1,
                all: shown.order.length,
              })}
              aria-describedby={`how-${card.maillonId}-${card.side}`}
              onKeyDown={(event) => walk(event, key)}
              {...drag(key)}
            >
              <span aria-hidden="true">≡</span>
              <span className={own.place}>{place + 1}</span>
            </button>
            <span className={own.name}>
              <b>{nameOf(key)}</b>
              <small>{isReplaced(key) ? say("replace.card.replaced") : (colourOf(key) ?? "")}</small>
            </span>
            <Loop
              desk={desk}
              lineKey={key}
              label={say("loops.stepper.of", { line: nameOf(key) })}
              value={shown.loops[place] ?? ""}
              onChange={(kindId) => keep(setLoop(card, key, kindId))}
            />
            <span className={own.moves}>
              <button
                type="button"
                aria-label={say("replace.card.up", { line: nameOf(key) })}
                disabled={place === 0}
                onClick={() => shift(key, -1)}
              >
                ↑
              </button>
              <button
                type="button"
                aria-label={say("replace.card.down", { line: nameOf(key) })}
                disabled={place === shown.order.length - 1}
                onClick={() => shift(key, 1)}
              >
                ↓
              </button>
            </span>
          </li>
        ))}
      </ol>
    </>
  );
}

/** Kinds of loop that this line's eye can have. */
function Loop(props: {
  readonly desk: ReplaceDesk;
  readonly lineKey: string;
  readonly label: string;
  readonly value: string;
  readonly onChange: (kindId: string) => void;
}) {
  const states = props.desk.document.loops.find(({ lineKey }) => lineKey === props.lineKey)?.states ?? [];
  const known = states.some(({ kind }) => kind.id === props.value);
  return (
    <select
      className={own.loop}
      aria-label={props.label}
      value={props.value}
      onChange={(event) => props.onChange(event.target.value)}
    >
      {known ? null : <option value={props.value}>{kindName({ id: props.value })}</option>}
      {states.map(({ kind }) => (
        <option key={kind.id} value={kind.id}>
          {kindName(kind)}
        </option>
      ))}
    </select>
  );
}

function Closing(props: CardPart) {
  const { card, keep, desk, side } = props;
  const { nameOf, isReplaced, replaced } = useNames(props);
  const hover = useApp((state) => state.hover);
  const back = new Map(card.backOn.map(({ lineKey, loop }) => [lineKey, loop]));
  const done = finish(card, replaced);
  /** A replaced line goes back with the loop that was chosen for it; what is only suggested isn't written down unasked. */
  const loopFor = (key: string): string | undefined => {
    const at = isReplaced(key) ? desk.chosen.get(key) : undefined;
    const own = desk.sheet?.sides.find(({ lineKey }) => lineKey === key);
    return at === undefined ? undefined : own?.landings[at]?.state?.kind.id;
  };
  return (
    <>
      <h4>{say("replace.card.closing")}</h4>
      <ol className={own.bar} data-closing>
        {card.order.map((key, place) => {
          const loop = back.get(key);
          const recorded = card.loops[place] as string;
          const expected = loopFor(key) ?? recorded;
          return (
            <li
              key={key}
              data-line={key}
              data-back={loop !== undefined || undefined}
              data-replaced={isReplaced(key) || undefined}
              onPointerEnter={() => hover(key)}
              onPointerLeave={() => hover(undefined)}
            >
              <label className={own.tick}>
                <input
                  type="checkbox"
                  checked={loop !== undefined}
                  onChange={(event) =>
                    keep(event.target.checked ? tick(card, key, expected) : untick(card, key))
                  }
                />
                <span className={own.place}>{place + 1}</span>
                <span className={own.name}>
                  <b>{nameOf(key)}</b>
                  <small>
                    {expected === recorded
                      ? kindName({ id: recorded })
                      : say("replace.card.was", {
                          recorded: kindName({ id: recorded }),
                          expected: kindName({ id: expected }),
                        })}
                  </small>
                </span>
              </label>
              {loop === undefined ? null : (
                <Loop
                  desk={desk}
                  lineKey={key}
                  label={say("replace.card.back", { line: nameOf(key) })}
                  value={loop}
                  onChange={(kindId) => keep(tick(card, key, kindId))}
                />
              )}
            </li>
          );
        })}
      </ol>
      <div
        role="status"
        data-card-status={done.complete ? (done.asRecorded ? "as recorded" : "differs") : "open"}
      >
        {done.open.length > 0 ? (
          <p className={styles.text}>
            {say("replace.card.open", {
              count: done.open.length,
              all: card.order.length,
              lines: done.open.map(nameOf).join(", "),
            })}
          </p>
        ) : done.asRecorded ? (
          <p className={styles.text}>
            {Children.toArray(
              sayParts("replace.card.all", {
                done: <b>{say("replace.card.all.done")}</b>,
                maillon: card.maillonId,
                side,
              }),
            )}
          </p>
        ) : null}
        {done.differences.length === 0 ? null : (
          <>
            <h4>{say("replace.card.differs")}</h4>
            <ul className={styles.warnings}>
              {done.differences.map((difference) => (
                <li key={`${difference.kind} ${difference.lineKey}`}>
                  {sayCardDifference(desk.document.wing, difference)}
                </li>
              ))}
            </ul>
          </>
        )}
        {done.replacedLoops.length === 0 ? null : (
          <ul className={styles.soft}>
            {done.replacedLoops.map((difference) => (
              <li key={difference.lineKey}>
                {say("replace.card.new", { text: sayCardDifference(desk.document.wing, difference) })}
              </li>
            ))}
          </ul>
        )}
      </div>
    </>
  );
}
