/** What the bands of the incidence chart are, in words, each with its pattern; and the patterns themselves. */
import { type BandSort, flowed, type KeyEntry } from "../model/incidenceKey.ts";
import styles from "./Charts.module.css";

/** An entry of the key: a band, or one of two states. */
export interface ShownEntry {
  readonly sort: KeyEntry["sort"] | "front" | "held";
  readonly text: string;
}

/** Where entries find room. */
export function placesOf(
  entries: readonly ShownEntry[],
  from: number,
  width: number,
): ReturnType<typeof flowed> {
  return flowed(
    entries.map(({ text }): KeyEntry => ({ sort: "cut", text })),
    from,
    width,
  );
}

/** Lines across for the outer band, so that it is told from the inner without colour and on paper. */
export function Hatch({ id }: { readonly id: string }) {
  return (
    <pattern id={id} width={5} height={5} patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <path d="M0 0V5" stroke="var(--ink-soft)" strokeWidth={1.3} />
    </pattern>
  );
}

/** How each band is filled and edged, in the chart and in its key alike. */
export function bandLook(sort: BandSort, hatch: string) {
  return sort === "together"
    ? { fill: `url(#${hatch})`, stroke: "var(--ink-soft)", strokeWidth: 1 }
    : { fill: "var(--hair-strong)", fillOpacity: sort === "readings" ? 0.8 : 0.42, stroke: "none" };
}

/** @param from where the first entry may begin on the title's line; entries without room go on below [px] */
export function IncidenceKey(props: {
  readonly entries: readonly ShownEntry[];
  readonly from: number;
  readonly width: number;
  readonly hatch: string;
}) {
  const { places } = placesOf(props.entries, props.from, props.width);
  return props.entries.map((entry, i) => {
    const { x, line } = places[i] ?? { x: 0, line: 0 };
    return (
      <g key={entry.sort} transform={`translate(${x} ${line * 18})`} data-band-key={entry.sort}>
        {entry.sort === "cut" ? (
          <path d="M3 1h9l-4.5 -8z" fill="var(--ink)" />
        ) : entry.sort === "front" ? (
          <circle cx={11} cy={-5} r={4} fill="var(--ink)" />
        ) : entry.sort === "held" ? (
          <>
            <path d="M0 -5H22" stroke="var(--ink)" strokeWidth={1.5} strokeDasharray="4 3" />
            <circle cx={11} cy={-5} r={3.75} fill="var(--panel)" stroke="var(--ink)" strokeWidth={1.5} />
          </>
        ) : (
          <rect x={0.5} y={-10.5} width={21} height={11} {...bandLook(entry.sort, props.hatch)} />
        )}
        <text x={entry.sort === "cut" ? 17 : 27} y={0} className={`${styles.title} ${styles.soft}`}>
          {entry.text}
        </text>
      </g>
    );
  });
}
