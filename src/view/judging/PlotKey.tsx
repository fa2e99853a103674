/** What the marks of a plot mean. */
import styles from "./HalfSpan.module.css";

export type KeyKind = "pair" | "left" | "right" | "bar" | "band" | "gap" | "trend";

export function Key({ kind, text }: { readonly kind: KeyKind; readonly text: string }) {
  return (
    <li>
      <svg className={styles.key} width={22} height={22} aria-hidden="true">
        {kind === "band" ? (
          <>
            <rect x={0} y={5} width={22} height={12} fill="var(--hair)" opacity={0.75} />
            <path d="M0 5h22M0 17h22" stroke="var(--hair-strong)" strokeDasharray="6 4" />
          </>
        ) : null}
        {kind === "pair" || kind === "bar" ? (
          <path d="M11 2v18" stroke="var(--ink)" strokeWidth={1.5} />
        ) : null}
        {kind === "pair" || kind === "left" ? (
          <circle cx={11} cy={11} r={4.6} fill="var(--ink-soft)" />
        ) : null}
        {kind === "right" ? (
          <circle cx={11} cy={11} r={3.9} fill="var(--panel)" stroke="var(--ink-soft)" strokeWidth={2.2} />
        ) : null}
        {kind === "gap" ? (
          <path d="M11 6l5 5l-5 5l-5 -5z" fill="var(--panel)" stroke="var(--ink-soft)" />
        ) : null}
        {kind === "trend" ? <path d="M0 14L22 8" stroke="var(--ink)" strokeWidth={2} /> : null}
      </svg>
      {text}
    </li>
  );
}
