import type { Air } from "../flight/air";
import type { Measure, Unit } from "../units";
import type { ColumnOrigin } from "../table/column-origin";
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

/** One value that a person set aside: it is missing in the table, and this is what the monitor had recorded. */
export interface SetAsideValue {
  /** The shot's number. */
  readonly shot: number;
  readonly head: string | null;
  readonly column: ShotColumn;
  /** The value as recorded, in `unit`; `null` when the export has nothing readable there. */
  readonly recorded: number | null;
  readonly unit: Unit | null;
  readonly because: string;
}

/**
 * One value that the table would have, were nothing set aside: a value set aside itself, or one that is derived from it.
 * In the table's own frame (from the strike reference, mirrored where directions are), in `unit`.
 */
export interface PutBackValue {
  readonly shot: number;
  readonly column: ShotColumn;
  /** A number, or the text of a text column such as `zone`. */
  readonly value: number | string;
  readonly unit: Unit | null;
}

/** One statement by which a person corrected values of the export. */
export interface CorrectedValues {
  readonly shots: readonly { readonly from: number; readonly to: number }[];
  readonly column: string;
  readonly value: string;
  readonly because: string;
}

/** Limits beyond which a value is called implausible, in `unit`. */
export interface PlausibleLimits {
  readonly low: number;
  readonly high: number;
  readonly unit: Unit | null;
}

/** Half the width and half the height of the centre zone, in mm. */
export interface CentreZone {
  readonly halfWidth: number;
  readonly halfHeight: number;
}

/** How far from the strike reference a standard miss is, in mm: to toe or heel, and high or low. */
export interface StandardMiss {
  readonly x: number;
  readonly y: number;
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
  /** Where the numbers of each column come from in this session. Absent while not known. */
  readonly origins?: Readonly<Record<string, ColumnOrigin>>;
  readonly carryIs: CarryIs;
  readonly air: { readonly temperature?: Measure; readonly pressure?: Measure; readonly humidity?: Measure; readonly altitude?: Measure };
  /** What balls landed on, or what the monitor reckoned with, as stated; `null` or absent where it is not. */
  readonly turf?: string | null;
  readonly ball: string | null;
  readonly heads: readonly HeadBuild[];
  /** Errors in the session file and its exports; their values are missing. Absent while not counted. */
  readonly errors?: number;
  /** Shots in the session, before any filter. */
  readonly shotCount: number;
  readonly setAside: readonly SetAsideCount[];
  /** Margins that the session states, by column. */
  readonly margins: Readonly<Record<string, Measure>>;
  /** True when the session states a margin that cannot be read: no default may stand in for it. */
  readonly marginsUnread?: boolean;
  /** True when a left-hander's directions have been mirrored, so that they read as a right-hander's. */
  readonly mirrored?: boolean;
  readonly monitor?: { readonly kind: string | null; readonly place: "indoor" | "outdoor" | null };
  /** The air to which the flights of these shots were moved, and its name for a reader; absent where they are as played. */
  readonly movedTo?: { readonly name: string; readonly air: Air };
  /** What was set aside, value by value, by shot and then by column. */
  readonly setAsideValues?: readonly SetAsideValue[];
  /** What the table would have beside its values, were nothing set aside; by shot and then by column. */
  readonly putBack?: readonly PutBackValue[];
  /** True where values that were set aside are in the table again, so that every later sentence can say so. */
  readonly hasPutBack?: true;
  readonly corrections?: readonly CorrectedValues[];
  /** Reading errors that the session states, by column: one standard deviation, in the column's unit or in %. */
  readonly readingErrors?: Readonly<Record<string, Measure>>;
  /** Plausible limits that the session states, by column. */
  readonly plausible?: Readonly<Record<string, PlausibleLimits>>;
  /** The centre zone and the standard miss by kind of head; absent means those of `head-defaults.ts`. */
  readonly centreZones?: Readonly<Record<HeadKind, CentreZone>>;
  readonly standardMisses?: Readonly<Record<HeadKind, StandardMiss>>;
}
