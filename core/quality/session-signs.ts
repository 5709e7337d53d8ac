import type { Problem } from "../problem";
import { problem } from "../problem";
import { columnMapEdit } from "../session/column-map-edit";
import type { Session } from "../session/session";
import { pearsonCorrelation } from "../stats/correlation";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import type { ShotColumn } from "../table/shot-columns";
import { shotColumnFacts } from "../table/shot-columns";
import { findColumn } from "../table/table";
import { textStart } from "../text-position";
import type { SessionReadings } from "./session-readings";

/**
 * Warnings where the sign of a column contradicts other columns in a whole session, with a fix where the session file can
 * be changed safely. Nothing is applied.
 *
 * Asked is how columns go together while a third is held equal, since a player's habits alone make some pairs run against
 * one another: a ball lands farther right when it starts farther right, at equal spin axis, and when its axis leans
 * farther right, at equal start; it starts farther right with face and with path farther right; its axis leans with the face
 * and against the path. The fewest columns that have to be turned for all of it to hold are named; where two answers are
 * equally short, no one is.
 * The same for a left-hander, mirrored or not, since all directions are mirrored together. Says nothing for fewer than 8 shots,
 * or where columns hardly go together.
 *
 * Source: relations as in D-plane and flight models; limits common practice, no source.
 *
 * @param text the session file, for the fixes.
 */
export function signProblems(readings: SessionReadings, session: Session, text: string): readonly Problem[] {
  const relations = relationsOf(readings);
  const odd = relations.filter(({ holds }) => !holds);
  if (odd.length === 0) return [];
  const turned = columnsToTurn(relations);
  if (turned === null) {
    const columns = [...new Set(odd.flatMap(({ a, b }) => [a, b]))];
    return [problem("session.signs-contradict", { columns, reasons: odd.map(sayRelation) }, placeOf(session, columns[0]!))];
  }
  return turned.map((column) => signProblem(session, text, column, odd.filter(({ a, b }) => a === column || b === column).map(sayRelation)));
}

function signProblem(session: Session, text: string, column: ShotColumn, reasons: readonly string[]): Problem {
  const map = session.columns.find((each) => each.column === column);
  const [right, left] = shotColumnFacts(column)!.direction!;
  const positive = map?.flipped === true ? right : left;
  const edit = columnMapEdit(text, column, { key: "positive", value: positive });
  const fix = edit === null ? {} : { fix: { title: `State that positive ${column} means ${positive}`, edits: [edit], byPerson: true as const } };
  return problem("session.sign-doubted", { column, reasons, header: map?.header ?? column, positive }, placeOf(session, column), fix);
}

function placeOf(session: Session, column: ShotColumn): Problem["range"] {
  return session.columns.find((each) => each.column === column)?.headerRange ?? session.sources[0]?.fileRange ?? textStart;
}

/** How two columns go together in the session while others are held equal. */
interface Relation {
  readonly a: ShotColumn;
  readonly b: ShotColumn;
  readonly held: readonly ShotColumn[];
  /** −1 where one goes down as the other goes up. */
  readonly sign: 1 | -1;
  readonly r: number;
  readonly n: number;
  /** False where they go together the other way. */
  readonly holds: boolean;
}

const expected: readonly Pick<Relation, "a" | "b" | "held" | "sign">[] = [
  { a: "offline", b: "start_direction", held: ["spin_axis"], sign: 1 },
  { a: "offline", b: "spin_axis", held: ["start_direction"], sign: 1 },
  { a: "start_direction", b: "face_angle", held: ["club_path"], sign: 1 },
  { a: "start_direction", b: "club_path", held: ["face_angle"], sign: 1 },
  { a: "spin_axis", b: "face_angle", held: ["club_path"], sign: 1 },
  { a: "spin_axis", b: "club_path", held: ["face_angle"], sign: -1 },
  // The start tells of the face as well, and mostly with less error.
  { a: "spin_axis", b: "start_direction", held: ["club_path"], sign: 1 },
  { a: "spin_axis", b: "club_path", held: ["start_direction"], sign: -1 },
  { a: "spin_axis", b: "side_spin", held: [], sign: 1 },
  { a: "face_to_path", b: "face_angle", held: ["club_path"], sign: 1 },
  { a: "face_to_path", b: "club_path", held: ["face_angle"], sign: -1 },
  { a: "face_to_path", b: "spin_axis", held: [], sign: 1 },
];
const fewest = 8; // shots
const most = 2_000; // shots that are looked at, spread evenly over the session
const leastCorrelation = 0.3; // what is held takes much of the correlation away; how sure it is decides
const surelyHolds = 2; // standard deviations of Fisher's transform
const surelyNot = 3.5; // standard deviations; a session has a dozen relations, and a false alarm costs trust
const farthest = 4; // robust standard deviations at which a value is held, so that a misread leads nothing

/** The relations of which the session says anything: they hold, or hold the other way round. */
function relationsOf(readings: SessionReadings): readonly Relation[] {
  const step = Math.max(1, Math.ceil(readings.count / most));
  const columns = new Map<ShotColumn, readonly number[] | null>();
  const valuesOf = (column: ShotColumn): readonly number[] | null => {
    if (!columns.has(column)) columns.set(column, sampled(readings, column, step));
    return columns.get(column)!;
  };
  // Side spin stands for the axis where the export has no axis of its own.
  const named = (column: ShotColumn): ShotColumn => (column === "spin_axis" && valuesOf("spin_axis") === null ? "side_spin" : column);
  return expected.flatMap(({ a, b, held, sign }) => {
    const names = [a, b, ...held].map(named);
    const values = names.map(valuesOf);
    if (new Set(names).size < names.length || values.some((each) => each === null)) return [];
    const rows = values[0]!.map((_, row) => row).filter((row) => values.every((each) => Number.isFinite(each![row]!)));
    if (rows.length < fewest) return [];
    const [x, y, z] = values.map((each) => clamped(rows.map((row) => each![row]!)));
    const r = z === undefined ? pearsonCorrelation(x!, y!, 0.95).r : partialCorrelation(x!, y!, z);
    const width = Math.sqrt(rows.length - 3 - held.length);
    const certainty = sign * Math.atanh(Math.max(-0.999_999, Math.min(0.999_999, r))) * width;
    const isSure = Math.abs(r) > leastCorrelation && (certainty > surelyHolds || certainty < -surelyNot);
    return isSure ? [{ a: names[0]!, b: names[1]!, held: names.slice(2), sign, r, n: rows.length, holds: certainty > 0 }] : [];
  });
}

/** Values of a column that the export has; `null` for one that is not there, or derived here from others. */
function sampled(readings: SessionReadings, column: ShotColumn, step: number): readonly number[] | null {
  const origin = findColumn(readings.table, column)?.origin;
  const values = readings.values(column);
  if (values === null || origin === "derived" || origin === "computed") return null;
  return Array.from({ length: Math.ceil(values.length / step) }, (_, i) => values[i * step]!);
}

function clamped(values: readonly number[]): readonly number[] {
  const centre = median(values);
  const reach = farthest * medianAbsoluteDeviation(values);
  return reach > 0 ? values.map((value) => Math.max(centre - reach, Math.min(centre + reach, value))) : values;
}

const mostShared = 0.99; // correlation with what is held, beyond which a column is that one in other words

/** The correlation of x and y while z is held equal; `NaN` where z leaves nothing of one. Source: G. U. Yule, Proc. R. Soc. Lond. A 79 (1907) 182. */
function partialCorrelation(x: readonly number[], y: readonly number[], z: readonly number[]): number {
  const [xy, xz, yz] = [pearsonCorrelation(x, y, 0.95).r, pearsonCorrelation(x, z, 0.95).r, pearsonCorrelation(y, z, 0.95).r];
  if (Math.max(Math.abs(xz), Math.abs(yz)) > mostShared) return Number.NaN;
  return (xy - xz * yz) / Math.sqrt((1 - xz * xz) * (1 - yz * yz));
}

/** The fewest columns with whose signs turned every relation holds; `null` where there are two such answers, or none. */
function columnsToTurn(relations: readonly Relation[]): readonly ShotColumn[] | null {
  const columns = [...new Set(relations.flatMap(({ a, b }) => [a, b]))];
  const holdsFor = (turned: number): boolean =>
    relations.every(({ a, b, holds }) => {
      const isTurned = (column: ShotColumn): boolean => ((turned >> columns.indexOf(column)) & 1) === 1;
      return holds !== (isTurned(a) !== isTurned(b));
    });
  const chosen = (turned: number): readonly ShotColumn[] => columns.filter((_, place) => ((turned >> place) & 1) === 1);
  const answers = Array.from({ length: 2 ** columns.length }, (_, turned) => turned)
    .filter(holdsFor)
    .map(chosen)
    .sort((a, b) => a.length - b.length);
  const [first, second] = answers;
  return first === undefined || first.length === second?.length ? null : first;
}

function sayRelation({ a, b, held, r, n }: Relation): string {
  const while_ = held.length === 0 ? "" : ` at equal ${held.join(" and ")}`;
  return `over ${n} shots ${a} goes ${r < 0 ? "against" : "along with"} ${b}${while_} (correlation ${r.toFixed(2).replace("-", "−")})`;
}
