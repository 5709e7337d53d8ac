/** Shots of one head by a line of a plan sheet, both ends included. */
export interface PlannedShots {
  readonly head: string;
  readonly from: number;
  readonly to: number;
  /** True for `Wren x 6`: places in hitting order, counted on from the line before. */
  readonly isCounted: boolean;
  /** The export whose name stands above the line; `null` for shots of the whole session. */
  readonly file: string | null;
}

/**
 * Reads a plan sheet line by line: `Wren: 1-6, 13` says which shots, `Wren x 6` how many came next; a comma, semicolon or
 * tab may stand for the colon. The name of an export on a line of its own begins the shots of that export.
 *
 * @param files the names of the exports.
 * @returns the shots in the order of the lines, and the lines that say neither. Counted shots have `from` and `to` from 1 to
 *   their number.
 * @example readPlan("Wren x 6\nHeron: 7-12", []).shots.length // 2
 */
export function readPlan(plan: string, files: readonly string[]): { readonly shots: readonly PlannedShots[]; readonly wrong: readonly string[] } {
  const shots: PlannedShots[] = [];
  const wrong: string[] = [];
  let file: string | null = null;
  for (const line of plan.split(/\r\n?|\n/u).map((each) => each.trim()).filter((each) => each !== "")) {
    const begun: string | undefined = files.find((each) => each === line.replace(/\s*:$/u, ""));
    const counted = /^(.*\S)\s*[x×]\s*(\d{1,6})$/iu.exec(line);
    const listed = /^([^:;,\t]*[^:;,\t\s])\s*[:;,\t]\s*(\d[\d\s,;–-]*)$/u.exec(line);
    const ranges = (listed?.[2] ?? "").split(/[,;]/u).map((part) => /^\s*(\d{1,9})\s*(?:[-–]\s*(\d{1,9}))?\s*$/u.exec(part));
    if (begun !== undefined) file = begun;
    else if (counted !== null && Number(counted[2]) > 0) shots.push({ head: counted[1]!, from: 1, to: Number(counted[2]), isCounted: true, file });
    else if (listed !== null && ranges.every((range) => range !== null && Number(range[1]) <= Number(range[2] ?? range[1]))) for (const range of ranges) shots.push({ head: listed[1]!, from: Number(range![1]), to: Number(range![2] ?? range![1]), isCounted: false, file });
    else wrong.push(line);
  }
  return { shots, wrong };
}
