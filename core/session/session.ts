import type { DecimalMark, Delimiter } from "../table/delimited-text";
import type { Sides } from "../table/read-number";
import type { ShotColumn } from "../table/shot-columns";
import type { TextRange } from "../text-position";
import type { Measure, Unit } from "../units";
import type { CarryIs, CentreZone, HeadBuild, HeadKind, PlausibleLimits, SessionFacts, StandardMiss } from "./session-facts";

/** What tells the hitting order of one file's shots; `session shot` counts through all files of the session. */
export type ShotOrder = "shot" | "time" | "file" | "session shot";

/** One export of a session and how it is to be read. What is not stated is told from the file. */
export interface SourceFile {
  /** The path as given. */
  readonly file: string;
  readonly fileRange: TextRange;
  readonly order: ShotOrder | null;
  readonly orderRange: TextRange;
  /** The head that was hit, for a file of one head. */
  readonly head: string | null;
  /** Where it is stated; the file's where it is not. */
  readonly headRange: TextRange;
  readonly delimiter: Delimiter | null;
  readonly decimal: DecimalMark | null;
  readonly skipLines: number;
  readonly shortRows: "missing" | null;
  readonly duplicateHeaders: "number" | null;
  /** Whether the row under the header holds units. */
  readonly unitsRow: boolean | null;
}

/** Which header of the exports a shot column is read from, and how. */
export interface ColumnMap {
  readonly column: ShotColumn;
  readonly header: string;
  readonly headerRange: TextRange;
  /** The unit as stated; `null` when not stated. */
  readonly unit: Unit | null;
  readonly sides: Sides | null;
  /** True when nothing tells which direction positive numbers mean: then it is the positive one here. */
  readonly directionAssumed: boolean;
  /** True when positive numbers in the export mean the direction that is negative here. */
  readonly flipped: boolean;
  readonly missing: readonly string[];
  /** True when a unit is stated that the column cannot have: that is reported, and nothing else is said of its unit. */
  readonly unitRefused?: true;
  /** Where a unit can be stated that is not; absent where one is, or where it cannot be told. */
  readonly unitPlace?: UnitPlace;
}

/** How a session file is made to state the unit of a column: `before`, `unit: yd` and `after` in place of `range`. */
export interface UnitPlace {
  readonly range: TextRange;
  readonly before: string;
  readonly after: string;
  /** The unit that all other columns of the same quantity are stated in, or that is usual; absent where there is none. */
  readonly likely?: Unit;
}

/** A head as the session describes it. */
export interface HeadDescription extends HeadBuild {
  /** Names under which the exports know it, besides its own. */
  readonly called: readonly string[];
  /** True when no strike reference is stated, so that the one of its kind is taken. */
  readonly referenceAssumed: boolean;
  readonly nameRange: TextRange;
}

/** A run of shots in hitting order, both ends included, as it stands in the session. */
export interface ShotRange {
  readonly from: number;
  readonly to: number;
  readonly range: TextRange;
}

/** What only the person knows of some shots. */
export interface ShotRemark {
  readonly shots: readonly ShotRange[];
  readonly intent: string | null;
  readonly note: string | null;
}

/** A value of the export that a person has corrected, with the reason. */
export interface Correction {
  readonly shots: readonly ShotRange[];
  /** A shot column, or a header of the export. */
  readonly column: string;
  readonly columnRange: TextRange;
  readonly value: string;
  readonly valueRange: TextRange;
  readonly because: string;
}

/** A value that a person has set aside, with the reason; `all` means every reading of the shots. */
export interface SetAside {
  readonly shots: readonly ShotRange[];
  readonly column: ShotColumn | "all";
  readonly columnRange: TextRange;
  readonly because: string;
}

/** A session file, read. What the file does not state has its default or is `null`. */
export interface Session {
  readonly name: string;
  readonly date: string | null;
  readonly synthetic: boolean;
  readonly sources: readonly SourceFile[];
  readonly player: { readonly name: string | null; readonly hand: "right" | "left"; readonly mirror: boolean };
  readonly monitor: { readonly kind: string | null; readonly place: "indoor" | "outdoor" | null };
  readonly calculated: readonly ShotColumn[];
  readonly carryIs: CarryIs;
  readonly columns: readonly ColumnMap[];
  readonly air: SessionFacts["air"];
  readonly turf: string | null;
  readonly ball: { readonly model: string | null; readonly count: number | null; readonly wear: string | null };
  readonly heads: readonly HeadDescription[];
  readonly shots: readonly ShotRemark[];
  /** Shots before which there was a break, so that a stint ends there. */
  readonly breaks: readonly ShotRange[];
  readonly corrections: readonly Correction[];
  readonly setAside: readonly SetAside[];
  readonly readingErrors: Readonly<Record<string, Measure>>;
  readonly missing: readonly string[];
  readonly centreZones: Readonly<Record<HeadKind, CentreZone>>;
  readonly standardMisses: Readonly<Record<HeadKind, StandardMiss>>;
  readonly margins: Readonly<Record<string, Measure>>;
  /** True when a margin is stated that cannot be read. */
  readonly marginsUnread: boolean;
  readonly plausible: Readonly<Record<string, PlausibleLimits>>;
}
