import type { ShotColumn } from "../table/shot-columns";
import type { Unit } from "../units";
import type { ShotOrder } from "./session";
import type { HeadKind } from "./session-facts";

// Everything here is plain data: it crosses to a page and into JSON as it is.

/** An export as it was given: its path, as the session file will name it, and its bytes. */
export interface GivenExport {
  readonly file: string;
  readonly bytes: Uint8Array;
}

/** How sure a proposal is: `ask` is for a person to say, and nothing is assumed then. */
export type Certainty = "sure" | "likely" | "ask";

/** What a header stands for: a shot column, or `keep`, itself under its own name. */
export type ColumnRole = ShotColumn | "keep";

/** A row of an export: the line on which it begins, from 1, and the text of its fields. */
export interface PreviewRow {
  readonly line: number;
  readonly fields: readonly string[];
}

/** An export as it was read. */
export interface ProposedExport {
  readonly file: string;
  /** `comma`, `semicolon`, `tab` or `bar`. */
  readonly delimiter: string;
  readonly decimal: "." | ",";
  /** Lines above the header. */
  readonly skipLines: number;
  /** True when a name is in the header twice, so that the second is read as `NAME (2)`. */
  readonly duplicateHeaders: boolean;
  /** Shots. */
  readonly shotCount: number;
  readonly header: readonly string[];
  /** The first rows. */
  readonly preview: readonly PreviewRow[];
  /** Rows of averages and the like, which are no shots. */
  readonly summaryRows: readonly PreviewRow[];
  /** The whole numbers under each header under which every shot has one of its own: those that may number shots. */
  readonly numbers: Readonly<Record<string, WholeNumbers>>;
}

/** Distinct whole numbers from 1, one for each shot. */
export interface WholeNumbers {
  /** From and to, both included; ascending. */
  readonly spans: readonly (readonly [number, number])[];
  /** True when they count up in the order of the rows. */
  readonly isAscending: boolean;
}

/** One header of the exports, and what it is proposed to be. */
export interface ProposedColumn {
  readonly header: string;
  /** The exports that have it. */
  readonly files: readonly string[];
  /** `null` where several are as likely: `columns` has them first. */
  readonly column: ColumnRole | null;
  /** `null` where it has none, or where it has to be asked. */
  readonly unit: Unit | null;
  /** The unit that the header, a row of units or the values state. */
  readonly statedUnit: Unit | null;
  /** The letters or words beside the numbers, as `L/R` or `I/D`: left before right, toe before heel, high before low, up before down; `null` where there are none. */
  readonly sides: string | null;
  /** The direction of positive numbers, a word of `directions`; `null` where there is none, or where it has to be asked. */
  readonly positive: string | null;
  readonly certainty: Certainty;
  /** What speaks for it, in words. */
  readonly evidence: string;
  /** A few different values, as they stand in the export. */
  readonly samples: readonly string[];
  /** Shots with a value, and shots without. */
  readonly present: number;
  readonly missing: number;
  /** True when the values are numbers. */
  readonly isNumber: boolean;
  /** Shot columns that it may be, the likeliest first. */
  readonly columns: readonly ShotColumn[];
  /** Units in which its numbers are plausible, for each shot column of `columns` that has a unit. */
  readonly units: Readonly<Partial<Record<ShotColumn, readonly Unit[]>>>;
}

/** A name found in the column that seems to say the head. */
export interface FoundHead {
  readonly name: string;
  readonly shots: number;
}

/** What exports are proposed to be. */
export interface SessionProposal {
  readonly exports: readonly ProposedExport[];
  /** In the order of the headers, each name once. */
  readonly columns: readonly ProposedColumn[];
  /** Names by header, of every column of text with few of them. */
  readonly heads: Readonly<Record<string, readonly FoundHead[]>>;
  /** `null` where nothing tells which shot came first. */
  readonly order: ShotOrder | null;
  /** Texts that say that a value is missing. */
  readonly missing: readonly string[];
  /** The name that the first file suggests, and the day where one is in it. */
  readonly name: string;
  readonly date: string | null;
}

/** What a header stands for, as a person settled it. */
export interface ColumnAnswer {
  readonly header: string;
  readonly column: ColumnRole | null;
  readonly unit: Unit | null;
  readonly sides: string | null;
  readonly positive: string | null;
}

/** What is known of a head; an empty text is not known. Measures are written with their unit, as `34 deg`. */
export interface HeadAnswer {
  readonly name: string;
  readonly kind: HeadKind | null;
  readonly design: string;
  readonly set: string;
  readonly club: string;
  readonly loft: string;
  readonly lie: string;
  readonly length: string;
  readonly shaft: string;
}

/** Shots and what is said of them: `1-6, 41`. */
export interface ShotsAnswer {
  readonly shots: string;
  readonly value: string;
}

/** What a person settled. `null` is not answered yet; an empty text is left out of the session. */
export interface SessionAnswers {
  readonly session: string | null;
  readonly date: string;
  readonly player: string;
  readonly hand: "right" | "left" | null;
  readonly monitorKind: string;
  readonly monitorPlace: "indoor" | "outdoor" | null;
  readonly columns: readonly ColumnAnswer[];
  /** What says the head: a column, the file, or a plan sheet. */
  readonly headsFrom: "column" | "file" | "plan" | null;
  /** The head of each file, where the file says it. */
  readonly fileHeads: Readonly<Record<string, string>>;
  /** A plan sheet: lines of a head and its shots, `Wren: 1-6, 13`, or of a head and how many came next, `Wren x 6`; the name of an export on a line of its own begins the shots of that export. */
  readonly plan: string;
  readonly heads: readonly HeadAnswer[];
  readonly order: ShotOrder | null;
  /** Shots that the export has under a wrong head, and their head. */
  readonly wrongHeads: readonly ShotsAnswer[];
  /** Shots that were warm-up; empty for none. */
  readonly warmUp: string | null;
  /** Shots that were shaped, and how. */
  readonly shaped: readonly ShotsAnswer[];
  readonly carryIs: "as played" | "in standard air" | "unknown" | null;
  readonly calculated: readonly ShotColumn[];
  readonly temperature: string;
  readonly pressure: string;
  readonly humidity: string;
  readonly altitude: string;
  readonly ball: string;
}

/** Something that only a person can say before a session can be written. */
export interface Question {
  readonly code: "name" | "column" | "column twice" | "unit" | "direction" | "heads" | "file head" | "plan" | "no heads" | "head kind" | "order" | "hand" | "place" | "warm-up" | "shaped" | "wrong heads" | "carry";
  /** What it is about: a header, a file or a head; of the heads, the header that may hold them. `null` where there is one of it. */
  readonly about: string | null;
  readonly words: string;
  /** The accepted answers; empty for free text. */
  readonly accepted: readonly string[];
}

