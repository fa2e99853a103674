/** How the canopy was found, and how well the states are balanced, in plain words. */
import type { Analysis } from "../../diagnosis/model.ts";
import type {
  Equilibrium,
  FittedParameter,
  ParameterName,
  ParameterUnit,
  WingModel,
} from "../../geometry/model.ts";
import { ROWS, type Row } from "../../plan/model.ts";
import { fixed, type Key, length, say, signedLength } from "../../words/index.ts";
import type { TapeMark } from "../parts/MarkTape.tsx";
import { sidedName } from "./format.ts";

export interface FitRow {
  readonly name: string;
  readonly value: string;
  readonly origin: string;
  /** "± 0.3 mm", or nothing where the plan gives the value. */
  readonly spread: string;
}

type ShiftName = `row ${Row} shift`;

/** Names in the trade's or at least in plain words. */
const NAME: Readonly<Record<Exclude<ParameterName, ShiftName>, Key>> = {
  "flat span": "panes.fit.flat-span",
  "projected over flat span": "panes.fit.projected-over-flat",
  "arc exponent": "panes.fit.arc",
  "bank close to the tips": "panes.fit.bank",
  "planform exponent": "panes.fit.planform",
  "root chord": "panes.fit.root-chord",
  "flat area": "panes.fit.flat-area",
  "aspect ratio": "panes.fit.aspect",
  "tip chord over root chord": "panes.fit.tip-over-root",
  "leading edge sweep": "panes.fit.sweep",
  "tip twist": "panes.fit.twist",
  "carabiner behind leading edge": "panes.fit.carabiner",
  "height over carabiners": "panes.fit.height",
  "rise above lower lines": "panes.fit.rise",
  "middle lines in that rise": "panes.fit.rise.middle",
  "tip chord": "panes.fit.tip-chord",
  "projected span": "panes.fit.projected-span",
  "projected area": "panes.fit.projected-area",
  "arch height": "panes.fit.arch",
  "outermost rib": "panes.fit.outermost",
};

function nameOf(name: ParameterName): string {
  const shifted = ROWS.find((row) => name === `row ${row} shift`);
  return shifted === undefined
    ? say(NAME[name as Exclude<ParameterName, ShiftName>])
    : say("panes.fit.shift", { row: shifted });
}

/** What stands behind a value, with the space before it. */
function unitOf(unit: ParameterUnit): string {
  switch (unit) {
    case "":
      return "";
    case "rad":
      return "°";
    case "of the tip's":
      return ` ${say("panes.fit.unit", { unit: "tips" })}`;
    case "of the assumed":
      return ` ${say("panes.fit.unit", { unit: "assumed" })}`;
    case "root chords":
      return ` ${say("panes.fit.unit", { unit: "chords" })}`;
    default:
      return ` ${unit}`;
  }
}

export function fitRows(model: WingModel): readonly FitRow[] {
  return model.fit.parameters.map((parameter) => {
    const { value, deviation } = shownUnit(parameter);
    const decimals = decimalsOf(parameter);
    const unit = unitOf(parameter.unit);
    return {
      name: nameOf(parameter.name),
      value: `${fixed(value, decimals)}${unit}`,
      origin: say("panes.fit.origin", { origin: parameter.origin }),
      spread: deviation > 0 ? `± ${significant(deviation)}${unit}` : "",
    };
  });
}

function shownUnit({ value, deviation, unit }: FittedParameter): { value: number; deviation: number } {
  const factor = unit === "rad" ? 180 / Math.PI : 1;
  return { value: value * factor, deviation: deviation * factor };
}

function decimalsOf({ unit }: FittedParameter): number {
  return unit === "m²" ? 2 : unit === "rad" ? 2 : 3;
}

/** Two significant figures, never in powers of ten. */
function significant(value: number): string {
  const decimals = Math.max(0, 1 - Math.floor(Math.log10(value)));
  return fixed(value, Math.min(6, decimals));
}

export interface Misfits {
  /** Root mean square, with its unit. */
  readonly rms: string;
  /** The largest, each with its tab. */
  readonly worst: readonly string[];
  /** Largest size [m]. */
  readonly extentM: number;
  readonly marks: readonly { readonly row: Row; readonly marks: readonly TapeMark[] }[];
}

/** How far the fitted canopy missed the plan's paths, before the rest was absorbed. */
export function misfits(analysis: Analysis): Misfits {
  const { wing, model } = analysis;
  // The brakes' lengths don't take part in the fit.
  const all = wing.tabs.flatMap((tab, i) =>
    tab.row === "brake" ? [] : [{ tab, misfitM: model.fit.misfitM[i] ?? 0 }],
  );
  const worst = [...all].sort((a, b) => Math.abs(b.misfitM) - Math.abs(a.misfitM)).slice(0, 3);
  const rows = [...new Set(all.map(({ tab }) => tab.row))];
  return {
    rms: length(model.fit.rmsMisfitM, 1),
    worst: worst.map(({ tab, misfitM }) =>
      say("panes.fit.missed.tab", { tab: sidedName(tab.id, tab.side), misfit: signedLength(misfitM, 1) }),
    ),
    extentM: Math.max(0.001, ...all.map(({ misfitM }) => Math.abs(misfitM))),
    marks: rows.map((row) => ({
      row,
      marks: all
        .filter(({ tab }) => tab.row === row)
        .map(({ tab, misfitM }) => ({ key: tab.key, side: tab.side, deviationM: misfitM })),
    })),
  };
}

export interface BalanceRow {
  readonly state: string;
  readonly text: string;
}

const SLACK_NAMED = 4;

/** What the solver says of one state. */
export function balanceRow(name: string, model: WingModel, state: Equilibrium): BalanceRow {
  const slack = [...new Set(state.slack.flatMap((member) => model.memberLine[member] ?? []))];
  const named = slack.slice(0, SLACK_NAMED).map((key) => {
    const [, side, id] = /^(left|right):(.*)$/.exec(key) ?? [];
    return id === undefined ? key : sidedName(id, side === "left" ? "left" : "right");
  });
  return {
    state: name,
    text: say("panes.balance", {
      balanced: state.converged ? "yes" : "no",
      steps: state.iterations,
      force: significant(Math.max(1e-6, state.residualN)),
      energy: fixed(state.energyJ, 1),
      slack: slack.length,
      lines: `${named.join(", ")}${slack.length > SLACK_NAMED ? " …" : ""}`,
    }),
  };
}
