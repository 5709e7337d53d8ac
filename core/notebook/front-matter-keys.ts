import { shotColumnFacts, shotColumnNames, type ShotColumn } from "../table/shot-columns";

/** Every key of the front matter with what it says: what reading accepts, and what completion and hover show. */
export const frontMatterKeyHelp = {
  fairstrike: "format of the notebook: 1",
  title: "what the notebook is about, in a line",
  shots: "session files whose shots are the table shots: a path, a list of paths, or FOLDER/*.session.yaml for all of a folder",
  units: "units of every table of the notebook: yd-mph, m-kmh or m-ms",
  margin: "the smallest difference of a column that matters to a player, chosen before looking: { carry: 3 yd }",
  choose: "named choices that cells use as shots.choose(\"NAME\") or chosen.NAME: { head: { of: head, is: any } }",
  seed: "whole number that everything drawn at random begins with, so that it comes out the same again",
} as const satisfies Record<string, string>;

/** A key of the front matter. */
export type FrontMatterKey = keyof typeof frontMatterKeyHelp;

/** The keys that the front matter may have, in the order in which they are usually written. */
export const frontMatterKeys = Object.keys(frontMatterKeyHelp) as readonly FrontMatterKey[];

/** Columns that a margin can be stated for: those with a unit. */
export const marginColumns: readonly ShotColumn[] = shotColumnNames.filter((name) => (shotColumnFacts(name)?.quantity ?? null) !== null);
