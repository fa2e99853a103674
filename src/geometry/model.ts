/** What the geometry gives to the rest: the bare network, the wing model, solved states, profile change. SI units; x aft, y to the pilot's right, z up. */
import type { Row, Side } from "../plan/model.ts";
import type { Balance } from "./balance.ts";
import type { OutlineParameters } from "./outline.ts";

/** A bare network of straight members. Index arrays; n nodes, m members. */
export interface Network {
  /** 3n start positions [m]. */
  readonly positions: Float64Array;
  /** 3n flags, 1 where that coordinate is held. */
  readonly fixed: Uint8Array;
  /** 3n dead loads [N]. */
  readonly loads: Float64Array;
  /** 2m node indices. */
  readonly ends: Int32Array;
  /** m unstretched lengths [m]. */
  readonly unstretched: Float64Array;
  /** m axial stiffnesses EA [N]. */
  readonly stiffness: Float64Array;
  /** m flags, 1 where the member also carries compression (a bar or a fabric tie); 0 for a line. */
  readonly bars: Uint8Array;
  /** Small bending resistance over triples of nodes (canopy only). */
  readonly bends: Bends;
}

/**
 * Bending energy ½·k·(d·(w0·x0 + w1·x1 + w2·x2) − r)² over triples of nodes: a discrete curvature along the
 * direction d (the canopy's normal at the specified state) and its rest value. Convex in the node positions.
 */
export interface Bends {
  /** 3b node indices. */
  readonly nodes: Int32Array;
  /** 3b weights [1/m²]. */
  readonly weights: Float64Array;
  /** 3b direction components, unit vectors. */
  readonly directions: Float64Array;
  /** b rest curvatures [1/m]. */
  readonly rest: Float64Array;
  /** b stiffnesses [N·m³]: bending stiffness [N·m²] times the length it stands for [m]. */
  readonly stiffness: Float64Array;
}

/** The result of an equilibrium solve. */
export interface Equilibrium {
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest out-of-balance force at a free node [N]. */
  readonly residualN: number;
  /** 3n node positions [m]. */
  readonly positions: Float64Array;
  /** m member forces, tension positive [N]. */
  readonly tensionsN: Float64Array;
  /** 3n support reactions, the force the support exerts on the node; 0 at free coordinates [N]. */
  readonly reactionsN: Float64Array;
  /** Members that went slack. */
  readonly slack: readonly number[];
  /** Free nodes that nothing holds in some direction. */
  readonly loose: readonly number[];
  /** Total potential [J]. */
  readonly energyJ: number;
  /** Loads and reactions summed: how far the outer forces miss zero. */
  readonly balance: Balance;
}

/** A rib that carries tabs, on one side, as the model knows it. */
export interface AttachedRib {
  readonly side: Side;
  /** Rib number in the plan. */
  readonly rib: number;
  /** Flat half-span coordinate over the flat half-span, 0 at the middle, 1 at the tip. */
  readonly sigma: number;
  readonly chordM: number;
  /** Leading edge at the specified state [m]. */
  readonly origin: readonly [number, number, number];
  /** Unit vectors at the specified state: aft along the chord, outwards normal (up at the middle), and along the span to the pilot's right. */
  readonly chordDirection: readonly [number, number, number];
  readonly normal: readonly [number, number, number];
  readonly spanDirection: readonly [number, number, number];
  /** The rib's nodes from front to rear with their chord fractions; `tabKey` undefined for the trailing edge where no tab is. */
  readonly nodes: readonly {
    readonly node: number;
    readonly chordFraction: number;
    readonly row: Row;
    readonly tabKey: string | undefined;
  }[];
}

/** Names in the program, the same in every language. */
export type ParameterName =
  | "flat span"
  | "projected over flat span"
  | "arc exponent"
  | "bank close to the tips"
  | "planform exponent"
  | "root chord"
  | "flat area"
  | "aspect ratio"
  | "tip chord over root chord"
  | "leading edge sweep"
  | "tip twist"
  | "carabiner behind leading edge"
  | "height over carabiners"
  | "rise above lower lines"
  | "middle lines in that rise"
  | `row ${Row} shift`
  | "tip chord"
  | "projected span"
  | "projected area"
  | "arch height"
  | "outermost rib";

/** SI, or what a bare number is a share of. */
export type ParameterUnit =
  | ""
  | "m"
  | "m²"
  | "rad"
  | "of the tip's"
  | "of the assumed"
  | "root chords"
  | "chords"
  | "flat half-spans";

/** One quantity of the fitted canopy. */
export interface FittedParameter {
  readonly name: ParameterName;
  readonly value: number;
  readonly unit: ParameterUnit;
  /** Given by the plan; determined by the plan's lengths and figures; or little more than a typical value. */
  readonly origin: "plan" | "fitted" | "assumed";
  /** Posterior standard deviation, in the value's unit; 0 where the plan gives the value. */
  readonly deviation: number;
  /** Standard deviation before the plan's lengths and figures were looked at; 0 where the plan gives the value. */
  readonly priorDeviation: number;
}

/** How well the canopy that was fitted reproduces the plan's path lengths, tab by tab, before the rest is absorbed. */
export interface FitReport {
  /** What the canopy was fitted by, and what follows from it. */
  readonly parameters: readonly FittedParameter[];
  /** Model path − plan path at the fitted canopy, per tab, in the wing's tab order [m]. */
  readonly misfitM: Float64Array;
  readonly rmsMisfitM: number;
  /** Largest remaining difference of the solved specified state [m]. */
  readonly largestRemainderM: number;
}

/** A wing ready to be solved for any set of line lengths. */
export interface WingModel {
  readonly network: Network;
  /** Member index → line key, or undefined for risers and canopy members. */
  readonly memberLine: readonly (string | undefined)[];
  /** Line key → member index. */
  readonly lineMember: ReadonlyMap<string, number>;
  /** Member index → kind. */
  readonly memberKind: readonly ("line" | "riser" | "fabric")[];
  /** Member index → riser id for straps, else undefined. */
  readonly memberRiser: readonly (string | undefined)[];
  /** Node index → what it is. */
  readonly nodeKind: readonly ("carabiner" | "maillon" | "pulley" | "junction" | "tab" | "trailingEdge")[];
  /** Node index → the plan's name of it (`left:A1`, `left maillon A`). */
  readonly nodeName: readonly string[];
  readonly ribs: readonly AttachedRib[];
  /** Tab index in the wing's order → node. */
  readonly tabNode: readonly number[];
  readonly fit: FitReport;
  readonly cells: number;
  /** The fitted outline, before it is moved over the carabiners by `offset` and turned by `pitchRad` about the y axis. */
  readonly outline: OutlineParameters;
  readonly offset: readonly [number, number, number];
  readonly pitchRad: number;
  /** 3n node positions on the fitted outline, before what the fit leaves is absorbed [m]. */
  readonly drawn: Float64Array;
  readonly dynamicPressurePa: number;
  /** Tangential over normal pressure load that balances the wing about the carabiners. */
  readonly tangentialShare: number;
  /** Brake line key → by how much it's taken longer than the plan's, so that every brake path is slack by the free travel [m]. */
  readonly brakeOffsetM: ReadonlyMap<string, number>;
  readonly referenceTensionN: number;
  readonly allUpWeightN: number;
  /** The specified state: itself a solution. */
  readonly specified: Equilibrium;
}

/** Profile change of one rib between two states. */
export interface RibChange {
  readonly side: Side;
  readonly rib: number;
  readonly sigma: number;
  /** Spanwise position at the first state [m], negative on the left. */
  readonly yM: number;
  /** Nose-up positive [rad]. */
  readonly incidenceRad: number;
  /** Change of camber height over chord; undefined with fewer than three tabs. */
  readonly camber: number | undefined;
  /** Mean displacement along the normal [m], outwards positive. */
  readonly heaveM: number;
  /** Change of local bank of the span direction [rad]. */
  readonly arcRad: number;
  /** Root mean square of what the fit leaves [m]; undefined where the fit is exact. */
  readonly residualM: number | undefined;
}
