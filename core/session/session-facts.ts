import type { Measure } from "../units";
import type { ShotColumn } from "../table/shot-columns";

/** A kind of head: what zones, standard misses and margins are set by. */
export type HeadKind = "iron" | "wedge" | "wood";

/** What is stated or measured about the build of one head. Anything not stated is absent. */
export interface HeadBuild {
  readonly name: string;
  readonly kind: HeadKind;
  readonly design?: string;
  readonly set?: string;
  readonly club?: string;
  readonly loft?: Measure;
  readonly lie?: Measure;
  readonly length?: Measure;
  readonly shaft?: string;
  /** The centred strike, from the monitor's own origin, in mm (+ toe, + up). */
  readonly strikeReference: { readonly x: number; readonly y: number };
}

/** Whether carry was measured or calculated for the air of the day. */
export type CarryIs = "as played" | "in standard air" | "unknown";

/** How many values of one column were set aside for one head. */
export interface SetAsideCount {
  readonly head: string;
  readonly column: ShotColumn;
  readonly count: number;
}

/**
 * What a table remembers of a session that its rows come from: everything the verbs of the trade may need besides
 * the columns themselves.
 */
export interface SessionFacts {
  readonly name: string;
  /** The session file, as the notebook names it. */
  readonly file: string;
  readonly date: string | null;
  /** True when the session says that its shots are invented. */
  readonly synthetic: boolean;
  readonly player: string | null;
  readonly hand: "right" | "left";
  /** False when neither a column nor the session tells the hitting order. */
  readonly orderKnown: boolean;
  readonly calculated: readonly ShotColumn[];
  readonly carryIs: CarryIs;
  readonly air: { readonly temperature?: Measure; readonly pressure?: Measure; readonly humidity?: Measure; readonly altitude?: Measure };
  readonly ball: string | null;
  readonly heads: readonly HeadBuild[];
  /** Shots in the session, before any filter. */
  readonly shotCount: number;
  readonly setAside: readonly SetAsideCount[];
  /** Margins that the session states, by column. */
  readonly margins: Readonly<Record<string, Measure>>;
}
