import { shotColumns, type ShotColumn } from "../table/shot-columns";
import { convert, type Unit } from "../units";
import type { ProposedColumn } from "./session-proposal";

/** What holds between columns of nearly every shot, whoever hit it. */
interface Relation {
  readonly columns: readonly [ShotColumn, ...ShotColumn[]];
  /** Those of the columns that are asked where it does not hold. */
  readonly doubts: readonly ShotColumn[];
  readonly words: string;
  /** @param values of the columns in SI and radians, directions as `shotColumns` has them. */
  readonly holds: (values: readonly number[]) => boolean;
}

const deg = Math.PI / 180;
const gravity = 9.81; // m/s²

/** Limits are wide, since a doubt is only asked; common practice, no source, where none is named. */
const relations: readonly Relation[] = [
  { columns: ["ball_speed", "club_speed"], doubts: ["ball_speed", "club_speed"], words: "a ball leaves at 1 to 1.55 times the club speed", holds: ([ball, club]) => isWithin(ball! / club!, 1, 1.55) },
  { columns: ["speed_ratio", "ball_speed", "club_speed"], doubts: ["speed_ratio"], words: "a speed ratio is ball speed divided by club speed", holds: ([ratio, ball, club]) => Math.abs(ratio! - ball! / club!) <= 0.05 },
  // Spin takes a wedge's ball back a little.
  { columns: ["carry", "total"], doubts: ["carry", "total"], words: "a total is no less than the carry", holds: ([carry, total]) => total! >= 0.95 * carry! },
  // The range of a body thrown at 45 degrees without air, v²/g.
  { columns: ["carry", "ball_speed"], doubts: ["carry", "ball_speed"], words: "a ball so fast does not carry so far", holds: ([carry, ball]) => carry! <= (1.05 * ball! * ball!) / gravity },
  { columns: ["offline", "carry"], doubts: ["offline"], words: "a ball lands no farther aside than it carries", holds: ([offline, carry]) => Math.abs(offline!) <= carry! },
  { columns: ["peak_height", "carry"], doubts: ["peak_height"], words: "a ball flies no higher than 0.6 of its carry", holds: ([peak, carry]) => peak! <= 0.6 * carry! },
  { columns: ["launch_angle", "descent_angle"], doubts: ["launch_angle", "descent_angle"], words: "a ball lands no flatter than it starts", holds: ([launch, descent]) => descent! >= launch! - 3 * deg },
  { columns: ["launch_angle", "dynamic_loft"], doubts: ["launch_angle", "dynamic_loft"], words: "a ball starts no higher than the loft at impact", holds: ([launch, loft]) => launch! <= loft! + 3 * deg },
  { columns: ["face_to_path", "face_angle", "club_path"], doubts: ["face_to_path"], words: "face to path is face angle less club path", holds: ([toPath, face, path]) => Math.abs(toPath! - (face! - path!)) <= 1 * deg },
  { columns: ["back_spin", "spin_rate"], doubts: ["back_spin", "spin_rate"], words: "back spin is a part of the spin rate", holds: ([back, rate]) => back! <= 1.02 * rate! },
];

function isWithin(value: number, low: number, high: number): boolean {
  return value >= low && value <= high;
}

/** Share of the shots in which a relation holds, misreads left, and the fewest shots that tell. */
const mostHold = 0.9;
const leastShots = 3;

const siUnit: Readonly<Record<string, Unit>> = { speed: "m/s", distance: "m", height: "m", "face distance": "m", angle: "rad", spin: "rad/s", time: "s" };

/**
 * The proposed columns, held against one another: a unit that is not stated is the one in which they go together, where
 * there is one; and where columns contradict one another, what was not stated is asked: the unit, else the column.
 *
 * @param numbersOf the numbers under a header, one for each shot of all exports, `NaN` where there is none.
 */
export function heldAgainstPhysics(columns: readonly ProposedColumn[], numbersOf: (header: string) => Float64Array): readonly ProposedColumn[] {
  const found = new Map(columns.flatMap((proposed): [ShotColumn, ProposedColumn][] => (proposed.column === null || proposed.column === "keep" || !proposed.isNumber ? [] : [[proposed.column, proposed]])));
  const si = (name: ShotColumn, unit: Unit | null): Float64Array | null => valuesOf(found.get(name), unit, numbersOf);
  for (const relation of relations) narrowUnit(relation, found, si);
  const fits = new Map<ShotColumn, Set<ShotColumn>>();
  const doubts = new Map<ShotColumn, string>();
  for (const { columns: names, doubts: doubtful, words, holds } of relations) {
    const shots = countHolding(names.map((name) => si(name, found.get(name)?.unit ?? null)), holds);
    if (shots === null) continue;
    const others = (name: ShotColumn): readonly ShotColumn[] => names.filter((other) => other !== name);
    if (shots.held >= mostHold * shots.all) for (const name of names) for (const other of others(name)) fits.set(name, (fits.get(name) ?? new Set()).add(other));
    else for (const name of doubtful) if (!doubts.has(name)) doubts.set(name, `contradicts ${others(name).join(" and ")} in ${shots.all - shots.held} of ${shots.all} shots: ${words}`);
  }
  return columns.map((before) => {
    const name = before.column === null || before.column === "keep" ? null : before.column;
    const proposed = (name === null ? undefined : found.get(name)) ?? before;
    const doubt = name === null ? undefined : doubts.get(name);
    if (doubt !== undefined) return { ...proposed, ...(proposed.unit === null || proposed.statedUnit !== null ? { column: null } : { unit: null }), certainty: "ask", evidence: `${proposed.evidence}; ${doubt}` };
    const fit = name === null ? undefined : fits.get(name);
    return fit === undefined ? proposed : { ...proposed, evidence: `${proposed.evidence}; fits ${[...fit].join(", ")}` };
  });
}

/** Takes the units in which a relation does not hold from the column whose unit is not known, where the others' are. */
function narrowUnit({ columns, holds }: Relation, found: Map<ShotColumn, ProposedColumn>, si: (name: ShotColumn, unit: Unit | null) => Float64Array | null): void {
  const open = columns.filter((name) => shotColumns[name].quantity !== null && found.get(name)?.unit === null);
  const [name] = open;
  if (name === undefined || open.length > 1) return;
  const proposed = found.get(name)!;
  const possible = proposed.units[name] ?? [];
  const left = possible.filter((unit) => {
    const shots = countHolding(columns.map((each) => si(each, each === name ? unit : (found.get(each)?.unit ?? null))), holds);
    return shots === null || shots.held >= mostHold * shots.all;
  });
  if (left.length === 0 || left.length === possible.length) return;
  const others = columns.filter((each) => each !== name).join(" and ");
  const [only] = left;
  const isOne = left.length === 1;
  found.set(name, {
    ...proposed,
    unit: isOne ? only! : null,
    units: { ...proposed.units, [name]: left },
    certainty: isOne && !isDirectionOpen(proposed) ? "likely" : "ask",
    evidence: `${proposed.evidence}; beside ${others} only ${left.join(", ")} ${isOne ? "is" : "are"} plausible`,
  });
}

function isDirectionOpen({ column, positive, sides }: ProposedColumn): boolean {
  return column !== null && column !== "keep" && column !== "back_spin" && shotColumns[column].direction !== null && positive === null && sides === null;
}

/** The values of a column in SI; `null` where a unit or a direction is not known. */
function valuesOf(proposed: ProposedColumn | undefined, unit: Unit | null, numbersOf: (header: string) => Float64Array): Float64Array | null {
  if (proposed === undefined || proposed.column === null || proposed.column === "keep" || isDirectionOpen(proposed)) return null;
  const { quantity, direction } = shotColumns[proposed.column];
  if (quantity !== null && unit === null) return null;
  const sign = direction !== null && proposed.positive === direction[1] ? -1 : 1;
  return numbersOf(proposed.header).map((number) => sign * (quantity === null ? number : convert(number, unit!, siUnit[quantity]!)));
}

/** Shots with all the values, and those in which the relation holds; `null` where too few have them. */
function countHolding(values: readonly (Float64Array | null)[], holds: Relation["holds"]): { readonly held: number; readonly all: number } | null {
  const there = values.filter((each) => each !== null);
  if (there.length < values.length) return null;
  let [held, all] = [0, 0];
  for (let row = 0; row < there[0]!.length; row++) {
    const shot = there.map((each) => each[row]!);
    if (shot.some((value) => Number.isNaN(value))) continue;
    all++;
    if (holds(shot)) held++;
  }
  return all < leastShots ? null : { held, all };
}
