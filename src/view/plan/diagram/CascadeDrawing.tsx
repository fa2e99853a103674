/** A row's cascade, drawn flat: tabs at the top, the maillon below. Lines are picked by pointer or by arrow keys. */
import {
  type CSSProperties,
  type KeyboardEvent,
  memo,
  type PointerEvent,
  useMemo,
  useRef,
  useState,
} from "react";
import type { CascadeDiagram, DiagramEdge } from "../../../plan/draft/index.ts";
import styles from "./CascadeDrawing.module.css";
import { lineNextTo, lineWidth } from "./walk.ts";

/** The diagram counts in heights of a line of text; across a little less, as its figures are set in a narrow type [px]. */
const UNIT = 14;
const UNIT_ACROSS = 12.4;
/** Room around: labels of the tabs above, of the maillon below. */
const ABOVE = 3.1;
const BELOW = 3.1;
const BESIDE = 0.4;
/** Smaller than this the words can't be read; what doesn't fit then is moved to sideways. */
const LEAST_SCALE = 0.88;

export interface CascadeDrawingProps {
  readonly diagram: CascadeDiagram;
  /** Lines that stand out, by what the diagram calls them. */
  readonly picked?: ReadonlySet<string> | undefined;
  readonly hovered?: string | undefined;
  /** Without it the drawing is a picture, and nothing in it takes the focus. */
  readonly onPick?: ((line: string) => void) | undefined;
  readonly onHover?: ((line: string | undefined) => void) | undefined;
  /** What the drawing shows, for those who don't see it. */
  readonly label: string;
  readonly colourOf?: ((line: string) => string | undefined) | undefined;
  /** Dashes of a line, as SVG has them; undefined: it is drawn through. */
  readonly dashOf?: ((line: string) => string | undefined) | undefined;
  /** What a line is called, for those who don't see it; its name if left out. */
  readonly nameOf?: ((line: string) => string) | undefined;
}

const NOTHING: ReadonlySet<string> = new Set();

function CascadeDrawingOf(props: CascadeDrawingProps) {
  const { diagram, picked = NOTHING, hovered, onPick, onHover, label, colourOf, dashOf, nameOf } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [focused, setFocused] = useState<string>();
  const width = UNIT_ACROSS * (diagram.width + 2 * BESIDE);
  const height = UNIT * (diagram.height + ABOVE + BELOW);
  const x = (value: number): number => UNIT_ACROSS * (value + BESIDE);
  const y = (value: number): number => UNIT * (diagram.height + ABOVE - value);

  /** The edges of each line; several where a line forks straight into tabs. */
  const lines = useMemo(() => {
    const found = new Map<string, DiagramEdge[]>();
    for (const edge of diagram.edges) found.set(edge.line, [...(found.get(edge.line) ?? []), edge]);
    return [...found];
  }, [diagram]);
  const endOf = useMemo(() => new Map(diagram.edges.map(({ to, line }) => [to, line])), [diagram]);
  // One line is in the order of Tab: the one that had the focus, else the first picked, else the first.
  const first =
    focused !== undefined && lines.some(([line]) => line === focused)
      ? focused
      : (lines.find(([line]) => picked.has(line)) ?? lines[0])?.[0];

  const lineAt = (target: EventTarget): string | undefined =>
    target instanceof Element
      ? (target.closest<SVGElement>("[data-line]")?.dataset.line ?? undefined)
      : undefined;
  const press = (event: KeyboardEvent): void => {
    const at = lineAt(event.target);
    if (at === undefined || onPick === undefined) return;
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      onPick(at);
      return;
    }
    const next = lineNextTo(diagram, at, event.key);
    if (next === undefined) return;
    event.preventDefault();
    setFocused(next);
    svg.current?.querySelector<SVGElement>(`g[data-line="${CSS.escape(next)}"]`)?.focus();
  };
  const over = (event: PointerEvent): void => {
    if (event.pointerType === "mouse") onHover?.(lineAt(event.target));
  };

  return (
    <svg
      ref={svg}
      className={styles.drawing}
      style={{ width: `min(100%, ${round(width)}px)`, minWidth: round(LEAST_SCALE * width) }}
      viewBox={`0 0 ${width} ${height}`}
      role={onPick === undefined ? "img" : "group"}
      aria-label={label}
      data-cascade={diagram.row}
      data-lines={lines.length}
      {...(onPick === undefined
        ? {}
        : {
            onClick: (event) => {
              const line = lineAt(event.target);
              if (line !== undefined) onPick(line);
            },
            onKeyDown: press,
          })}
      {...(onHover === undefined ? {} : { onPointerMove: over, onPointerLeave: () => onHover(undefined) })}
    >
      {lines.map(([line, edges]) => {
        const paths = edges
          .map(({ points }) => `M${points.map(([px, py]) => `${round(x(px))} ${round(y(py))}`).join("L")}`)
          .join("");
        const isPicked = picked.has(line);
        return (
          <g
            key={line}
            className={styles.line}
            data-line={line}
            data-picked={isPicked || undefined}
            data-hovered={hovered === line || undefined}
            {...(onPick === undefined
              ? {}
              : {
                  role: "button",
                  tabIndex: line === first ? 0 : -1,
                  "aria-label": nameOf?.(line) ?? line,
                  "aria-pressed": isPicked,
                  onFocus: () => setFocused(line),
                })}
          >
            <path className={styles.reach} d={paths} />
            <path className={styles.halo} d={paths} />
            <path
              className={styles.stroke}
              d={paths}
              strokeWidth={lineWidth(edges[0]?.tier ?? 1)}
              strokeDasharray={dashOf?.(line)}
              {...strokeOf(colourOf?.(line))}
            />
          </g>
        );
      })}
      {diagram.nodes.map((node, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: nodes are their numbers
        <Mark key={`${node.kind} ${index}`} kind={node.kind} x={x(node.x)} y={y(node.y)} />
      ))}
      {diagram.labels.map((each) => {
        const node = diagram.nodes[each.node];
        const line = node?.kind === "anchor" ? undefined : endOf.get(each.node);
        const left = x(each.x);
        const top = y(each.y);
        return (
          <text
            key={each.node}
            className={styles.text}
            textAnchor="middle"
            data-kind={node?.kind}
            {...(line === undefined
              ? {}
              : { "data-line": line, "data-picked": picked.has(line) || undefined })}
          >
            <tspan x={round(left)} y={round(top + (each.figure === "" && node?.kind === "tab" ? 13 : -2))}>
              {each.text}
            </tspan>
            {each.figure === "" ? null : (
              <tspan className={styles.figure} x={round(left)} y={round(top + 12)}>
                {each.figure}
              </tspan>
            )}
          </text>
        );
      })}
    </svg>
  );
}

/** Drawn anew only where something of it changed: while a row is typed, the other rows stay. */
export const CascadeDrawing = memo(CascadeDrawingOf);

const round = (value: number): number => Math.round(value * 10) / 10;

const strokeOf = (colour: string | undefined): { readonly style?: CSSProperties } =>
  colour === undefined ? {} : { style: { "--line": colour } as CSSProperties };

function Mark({ kind, x, y }: { readonly kind: string; readonly x: number; readonly y: number }) {
  if (kind === "tab") return <path className={styles.tab} d={`M${round(x - 5)} ${round(y)}h10`} />;
  if (kind === "anchor")
    return <rect className={styles.anchor} x={round(x - 4)} y={round(y - 4)} width={8} height={8} rx={3} />;
  return <circle className={styles.junction} cx={round(x)} cy={round(y)} r={2.4} />;
}
