import { inWords } from "../chart/field-name";
import { digitsAmongReadings, digitsAsStated, digitsForColumn, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { WithoutInterval } from "../stats/head-means";
import { leastShots } from "../stats/judge-pair";
import { shotColumnFacts } from "../table/shot-columns";
import { numberColumn } from "../table/table";
import type { Centred } from "./centred-strikes";
import { centreZoneInWords } from "./centred-strikes";
import type { ScoreRow } from "./scorecard-rows";
import { lowSpinShare } from "./scorecard-rows";
import { capitalised, listed } from "./session-sentences";
import type { UsedShots } from "./used-shots";

/** Numbers set side by side beyond which one of them stands out by chance easily. Common practice, no source. */
const mostNumbers = 20;

/** What is behind the sentences of one scorecard. */
export interface ScoreWords {
  readonly by: string;
  readonly used: UsedShots;
  readonly confidence: number;
  readonly centred: readonly Centred[] | null;
  /** True when a limit of low spin was stated. */
  readonly isLimitStated: boolean;
}

/** How to read the table, then what it holds besides means: windows, low spin, aim and spread. */
export function scoreSentences(rows: readonly ScoreRow[], words: ScoreWords): readonly string[] {
  return [
    readingSentence(words),
    ...(words.by === "zone" ? [] : [strikesSentence(words)]),
    ...of(rows, "aim").map((aim) => aimSentence(aim, rows.filter((row) => row.told === "spread" && row.column === aim[0]!.column), words)),
    ...of(rows, "window").map((window) => windowSentence(window, words)),
    ...of(rows, "low").map((low) => lowSentence(low, rows.filter((row) => row.told === "mean" && row.column === low[0]!.column), words)),
    manySentence(rows, words),
    ...withoutSentences(rows, words),
  ];
}

/** The rows of one kind, those of one thing together. */
function of(rows: readonly ScoreRow[], told: ScoreRow["told"]): readonly (readonly ScoreRow[])[] {
  const kind = rows.filter((row) => row.told === told);
  return [...new Set(kind.map((row) => row.of))].map((name) => kind.filter((row) => row.of === name));
}

function readingSentence({ used, confidence }: ScoreWords): string {
  const groups = used.groups.map((name, group) => {
    const shots = Array.from(used.rows.keys()).filter((i) => used.group[i] === group);
    const count = `${name} ${shots.length} ${shots.length === 1 ? "shot" : "shots"}`;
    if (used.stint === null) return count;
    const stints = new Set(shots.map((i) => `${used.session[i]!} ${used.stint![i]!}`)).size;
    return `${count} in ${stints} ${stints === 1 ? "stint" : "stints"}`;
  });
  return `Typical is the mean of all shots (${listed(groups)}), from and to its ${formatShare(confidence)} interval, sd how single shots scatter.`;
}

function strikesSentence({ by, used, centred }: ScoreWords): string {
  if (centred === null) return "Centred and poor strikes are not told apart: the table does not say where the face was hit.";
  const counts = used.groups.map((name, group) => {
    const among = (where: Centred): number => centred.filter((each, i) => each === where && used.group[i] === group).length;
    const unknown = among(null);
    return `${name} ${among(true)} and ${among(false)}${unknown === 0 ? "" : ` (${unknown} not known)`}`;
  });
  const zone = centreZoneInWords(used.sessions);
  const withPoor = used.groups.filter((_, group) => centred.some((each, i) => each === false && used.group[i] === group)).length;
  const differ = withPoor < 2 ? "" : ` Poor strikes differ from ${by} to ${by} in how far off they were.`;
  return `Centred is the same over the strikes in ${zone}, poor over all other strikes, whatever became of the ball: ${listed(counts)}.${differ}`;
}

function aimSentence(aim: readonly ScoreRow[], spread: readonly ScoreRow[], words: ScoreWords): string {
  const digits = digitsOf(aim);
  const { column } = aim[0]!;
  const [right, left] = shotColumnFacts(column.name)?.direction ?? ["", ""];
  const parts = known(aim).map((row) => {
    const side = Number(Math.abs(row.typical).toFixed(digits)) === 0 ? "" : ` ${row.typical > 0 ? right : left}`;
    const own = spread.find((each) => each.group === row.group)!.typical;
    const scatter = Number.isNaN(own) ? "" : `, spread ${formatMeasure(own, digits, row.unit)}`;
    return `${nameOf(row, words)} aim ${formatMeasure(Math.abs(row.typical), digits, row.unit)}${side}${scatter}`;
  });
  return `${capitalised(inWords(column.name))} is told twice: aim is where the shots lie on average, spread how they scatter (standard deviation) about that, each ${words.by} about its own: ${parts.join("; ")}.`;
}

function windowSentence(window: readonly ScoreRow[], words: ScoreWords): string {
  const { column, of: label } = window[0]!;
  const range = label.slice(column.name.length + 2, -1);
  return `${capitalised(inWords(column.name))} ${/^\d|^\u2212/.test(range) ? "from " : ""}${range}: ${counted(window, words)}.`;
}

function lowSentence(low: readonly ScoreRow[], spin: readonly ScoreRow[], words: ScoreWords): string {
  const { unit } = low[0]!.column;
  const limit = (row: ScoreRow): string => formatMeasure(row.limit, words.isLimitStated ? digitsAsStated(row.limit) : 0, unit);
  const limits = words.isLimitStated
    ? limit(low[0]!)
    : `${formatShare(lowSpinShare)} of the ${words.by}'s own median (${listed(known(low).map((row) => `${nameOf(row, words)} ${limit(row)}`))})`;
  const digits = digitsOf(spin);
  const scatter = known(spin).filter((row) => !Number.isNaN(row.sd));
  const sds = scatter.length === 0 ? "" : `; standard deviation of all spin ${listed(scatter.map((row) => `${nameOf(row, words)} ${formatMeasure(row.sd, digits, unit)}`))}`;
  return `Low spin, below ${limits}: ${counted(low, words)}${sds}.`;
}

/** `Wren 21 of 32 (66 %), Heron 18 of 31 (58 %)`. */
function counted(rows: readonly ScoreRow[], words: ScoreWords): string {
  const parts = rows.map((row) => `${nameOf(row, words)} ${row.n === 0 ? "none known" : `${row.count} of ${row.n} (${formatNumber(row.typical, 0)} %)`}`);
  return listed(parts);
}

function manySentence(rows: readonly ScoreRow[], { by }: ScoreWords): string {
  const numbers = rows.filter((row) => !Number.isNaN(row.typical)).length;
  const many = numbers > mostNumbers ? `${numbers} numbers side by side are an exploration: some stand out by chance. ` : "";
  return `${many}Whether two ${by}s differ is for compare to say, on a column chosen beforehand, not for two intervals.`;
}

const why: Readonly<Record<WithoutInterval, string>> = {
  "few shots": `fewer than ${leastShots} shots with a value, which describe lists`,
  "several sessions": "shots of several sessions, which differ by more than stints do",
  "one go": "hit in one go, so that nothing tells what changed in the meantime; hit in turns with another, a few shots at a time and three times round or more, it has one",
  "few stints": "too few stints to tell how much they scatter",
  "no scatter": "all values, or all means of stints, alike",
};

/** Heads may well have been hit in turns within what is told apart by something else. */
const unbroken = (by: string): string => `no shot of another ${by} lies between its own, so that nothing tells what changed in the meantime`;

/** Which groups have no interval, and why; with the columns where it is not all of them, once for groups with the same. */
function withoutSentences(rows: readonly ScoreRow[], words: ScoreWords): readonly string[] {
  const means = rows.filter((row) => (row.told === "mean" || row.told === "aim") && row.n > 0);
  const columns = new Set(means.map((row) => row.column)).size;
  return (Object.keys(why) as WithoutInterval[]).flatMap((reason) => {
    const byColumns = new Map<string, string[]>();
    words.used.groups.forEach((name, group) => {
      const without = means.filter((row) => row.group === group && row.without === reason);
      if (without.length === 0) return;
      const where = without.length === columns ? "" : ` (${listed(without.map((row) => inWords(row.column.name)))})`;
      byColumns.set(where, [...(byColumns.get(where) ?? []), name]);
    });
    const places = [...byColumns].map(([where, names]) => listed(names) + where);
    const because = reason === "one go" && words.by !== "head" ? unbroken(words.by) : why[reason];
    return places.length === 0 ? [] : [`No interval for ${places.join("; ")}: ${because}.`];
  });
}

function known(rows: readonly ScoreRow[]): readonly ScoreRow[] {
  return rows.filter((row) => row.n > 0);
}

function nameOf(row: ScoreRow, { used }: ScoreWords): string {
  return used.groups[row.group]!;
}

/** Decimals that the intervals of these rows bear, or those common for the unit: as the table shows them. */
function digitsOf(rows: readonly ScoreRow[]): number {
  const bound = (end: "from" | "to") => numberColumn(end, rows.map((row) => row.interval[end]));
  const typical = numberColumn("typical", rows.map((row) => row.typical), rows[0]?.unit ?? null);
  return digitsAmongReadings(bound("from"), bound("to"), typical.unit) ?? digitsForColumn(typical);
}
