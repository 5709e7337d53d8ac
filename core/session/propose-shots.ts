import { readPlan } from "./propose-plan";
import type { SessionAnswers, SessionProposal } from "./session-proposal";

/** Numbers from the first to the second, both included. */
export type Span = readonly [from: number, to: number];

/** The numbers by which the session's shots go with these answers, ascending. */
export interface SessionShots {
  readonly numbers: readonly Span[];
  /** The shots of an export in its hitting order by its own numbers, and by those of the session: places correspond. `null` where files are mixed. */
  readonly ofFile: (file: string) => { readonly own: readonly Span[]; readonly session: readonly Span[] } | null;
}

/** The shots by the numbers that loading the session gives them; `null` where these answers and the proposal do not tell. */
export function sessionShots({ exports }: SessionProposal, answers: SessionAnswers): SessionShots | null {
  const { order } = answers;
  const header = answers.columns.find(({ column }) => column === "shot")?.header;
  const own = exports.map(({ numbers }) => (header === undefined || !Object.hasOwn(numbers, header) ? null : numbers[header]!));
  const total = exports.reduce((sum, { shotCount }) => sum + shotCount, 0);
  const starts = exports.map((_, at) => exports.slice(0, at).reduce((sum, { shotCount }) => sum + shotCount, 0));
  const known = own.filter((each) => each !== null);
  const haveOwn = known.length === exports.length && total > 0;
  if (order === null || total === 0 || (order === "time" && haveOwn) || (order !== "time" && order !== "file" && !haveOwn)) return null;
  const isSorted = order === "shot" || order === "session shot" || (order === "file" && known.every(({ isAscending }) => isAscending));
  const spans = known.flatMap((each) => each.spans);
  const inOrder = order === "session shot" ? spans.toSorted((one, other) => one[0] - other[0]) : spans;
  if (haveOwn && isSorted && inOrder.every((span, at) => at === 0 || inOrder[at - 1]![1] < span[0]))
    return { numbers: joined(inOrder), ofFile: (file) => same(own[exports.findIndex((each) => each.file === file)]?.spans) };
  const ofFile: SessionShots["ofFile"] = (file) => {
    const at = exports.findIndex((each) => each.file === file);
    const count = exports[at]?.shotCount ?? 0;
    if (at < 0 || count === 0 || (order !== "file" && order !== "shot" && exports.length > 1)) return null;
    const numbers = own[at];
    return { own: numbers !== null && numbers !== undefined && isSorted ? numbers.spans : [[1, count]], session: [[starts[at]! + 1, starts[at]! + count]] };
  };
  return { numbers: [[1, total]], ofFile };
}

function same(spans: readonly Span[] | undefined): ReturnType<SessionShots["ofFile"]> {
  return spans === undefined ? null : { own: spans, session: spans };
}

/** Ascending spans, those that touch made one. */
export function joined(spans: readonly Span[]): readonly Span[] {
  const found: [number, number][] = [];
  for (const [from, to] of spans.toSorted((one, other) => one[0] - other[0])) {
    const last = found.at(-1);
    if (last !== undefined && from <= last[1] + 1) last[1] = Math.max(last[1], to);
    else found.push([from, to]);
  }
  return found;
}

/** What of the first spans is in none of the second. */
export function without(spans: readonly Span[], taken: readonly Span[]): readonly Span[] {
  return joined(taken).reduce<readonly Span[]>((left, [from, to]) => left.flatMap(([low, high]): Span[] => [[low, Math.min(high, from - 1)] as const, [Math.max(low, to + 1), high] as const].filter(([one, other]) => one <= other)), joined(spans));
}

/** What is in both. */
export function shared(spans: readonly Span[], others: readonly Span[]): readonly Span[] {
  return joined(spans.flatMap(([from, to]) => others.flatMap(([low, high]): Span[] => (Math.max(from, low) <= Math.min(to, high) ? [[Math.max(from, low), Math.min(to, high)]] : []))));
}

/** Spans as a person writes them: `1-6, 13`. */
export function spansText(spans: readonly Span[]): string {
  return spans.map(([from, to]) => (from === to ? String(from) : `${from}-${to}`)).join(", ");
}

/** Spans with their noun: `shot 3`, `shots 1-6, 13`. */
export function shotsText(spans: readonly Span[]): string {
  const [only, ...more] = spans;
  return `${only !== undefined && only[0] === only[1] && more.length === 0 ? "shot" : "shots"} ${spansText(spans)}`;
}

/** The shots that a text such as `1-6, 41` names; `null` for any other text. */
export function spansOfText(text: string): readonly Span[] | null {
  const parts = text.split(/[,;]/u).map((part) => part.trim()).filter((part) => part !== "").map((part) => /^(\d{1,15})\s*(?:[-–]\s*(\d{1,15}))?$/u.exec(part));
  const spans = parts.flatMap((part): Span[] => (part === null ? [] : [[Number(part[1]), Number(part[2] ?? part[1])]]));
  return spans.length === parts.length && spans.length > 0 && spans.every(([from, to]) => from >= 1 && from <= to) ? spans : null;
}

/** The shots on these places, from 1, of spans that are put one after another. */
function atPlaces(spans: readonly Span[], first: number, last: number): readonly Span[] {
  let before = 0;
  return spans.flatMap(([from, to]): Span[] => {
    const [low, high] = [Math.max(from, from + first - 1 - before), Math.min(to, from + last - 1 - before)];
    before += to - from + 1;
    return low <= high ? [[low, high]] : [];
  });
}

/** Places of the numbers that are there, ascending. */
function placesOf(spans: readonly Span[], numbers: Span): readonly Span[] {
  let before = 0;
  return spans.flatMap(([from, to]): Span[] => {
    const [low, high] = [Math.max(from, numbers[0]), Math.min(to, numbers[1])];
    const offset = before - from + 1;
    before += to - from + 1;
    return low <= high ? [[low + offset, high + offset]] : [];
  });
}

/** A plan sheet held against the shots that there are. */
export interface ReadPlan {
  /** Shots by the numbers of the session, in the order of the lines. */
  readonly shots: readonly { readonly head: string; readonly file: string | null; readonly spans: readonly Span[] }[];
  /** What is wrong with it, each in a sentence; the first is the most telling. */
  readonly wrong: readonly string[];
}

/** Reads the plan sheet of the answers: lines that cannot be read, shots that are not there, named twice or not at all are wrong. */
export function planOf(proposal: SessionProposal, answers: SessionAnswers): ReadPlan {
  const all = sessionShots(proposal, answers);
  const { shots: planned, wrong: unread } = readPlan(answers.plan, proposal.exports.map(({ file }) => file));
  const wrong = unread.map((line) => `The plan sheet has a line that names no head with its shots: ${line}`);
  const next = new Map<string | null, number>();
  const shots = planned.map(({ head, file, from, to, isCounted }) => {
    const own: { readonly own: readonly Span[]; readonly session: readonly Span[] } | null = file === null ? same(all?.numbers ?? [[1, Number.MAX_SAFE_INTEGER]])! : (all?.ofFile(file) ?? null);
    if (own === null) {
      wrong.push(`The plan sheet has shots of ${file ?? ""} alone, but the order mixes the files; number the shots through the session`);
      return { head, file, spans: [] };
    }
    const place = next.get(file) ?? 1;
    const places: readonly Span[] = isCounted ? [[place, place + to - 1]] : placesOf(own.own, [from, to]);
    next.set(file, (places.at(-1)?.[1] ?? place - 1) + 1);
    const spans = places.flatMap(([first, last]) => atPlaces(own.session, first, last));
    const count = own.own.reduce((sum, [low, high]) => sum + high - low + 1, 0);
    const where = file === null ? "there are" : `${file} has`;
    if (isCounted && place + to - 1 > count) wrong.push(`The plan sheet counts ${place + to - 1} shots, but ${where} ${count}`);
    const absent = isCounted ? [] : without([[from, to]], own.own);
    if (absent.length > 0) wrong.push(`The plan sheet has shots that are not there: ${head}: ${spansText(absent)}; ${where} ${spansText(own.own)}`);
    return { head, file, spans };
  });
  for (const [at, { head, spans }] of shots.entries())
    for (const other of shots.slice(0, at)) {
      const twice = shared(spans, other.spans);
      if (twice.length > 0) wrong.push(`The plan sheet names ${shotsText(twice)} twice, for ${other.head} and ${head}`);
    }
  const gaps = all === null || shots.length === 0 ? [] : without(all.numbers, shots.flatMap(({ spans }) => spans));
  if (gaps.length > 0) wrong.push(`The plan sheet names no head for ${shotsText(gaps)}`);
  return { shots, wrong };
}

/** The head that the sources have by a plan: that of each file's first line where every line is of a file, else the first of all. */
export function plannedHead(plan: ReadPlan, file: string): string | null {
  const own = plan.shots.every((each) => each.file !== null) ? plan.shots.find((each) => each.file === file) : undefined;
  return (own ?? plan.shots[0])?.head ?? null;
}
