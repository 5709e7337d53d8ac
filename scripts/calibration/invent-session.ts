import type { SessionFacts } from "../../core/session/session-facts";
import { seededRandom } from "../../core/stats/random";
import type { Table } from "../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../core/table/table";

/** What is true of one invented head. */
export interface TrueHead {
  readonly name: string;
  /** Carry at the centre of the face more than 220 yd, in yd. */
  readonly adds: number;
  /** Where it is hit on average, in mm from its strike reference. */
  readonly strike: readonly [x: number, y: number];
  /** Its fall-off as a multiple of the usual one. */
  readonly fallOff: number;
  /** Its scatter of shots as a multiple of the usual one. */
  readonly scatter: number;
}

/** What is true of an invented session. */
export interface Truth {
  readonly heads: readonly TrueHead[];
  readonly passes: number;
  /** Shots in each stint, one number a head. */
  readonly shotsInStint: readonly number[];
  /** SD of what a stint shares, and of single shots at one strike, in yd. */
  readonly stintSd: number;
  readonly shotSd: number;
  /** What the session adds to carry by its course, in yd, for a time of 0 to 1. */
  readonly drift: (time: number) => number;
  /** In which order the heads are hit: in random order in each pass, or each in one go. */
  readonly order: "random in each pass" | "in one go";
}

/** SDs of strikes about a head's mean, in mm, and the usual fall-off: yd lost for a mm, and for its square. */
const strikeSd = [8, 5.5] as const;
const usualFallOff = { x2: -0.0244, y2: -0.0537, y: 0.58, x: 0.05, xy: -0.005 };

/** An invented session: its table of shots, and the carry of each head at any strike half-way through. */
export interface InventedSession {
  readonly table: Table;
  readonly carryAt: (head: number, x: number, y: number) => number;
  readonly strikes: readonly { readonly head: number; readonly x: number; readonly y: number }[];
}

/** A session whose truth is known. Synthetic, every shot of it; its fall-off is of a plausible size, from no source. */
export function inventSession(truth: Truth, seed: number): InventedSession {
  const random = seededRandom(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const carryAt = (head: number, x: number, y: number): number => {
    const { adds, fallOff } = truth.heads[head]!;
    const { x2, y2, xy } = usualFallOff;
    return 220 + adds + usualFallOff.x * x + usualFallOff.y * y + xy * x * y + fallOff * (x2 * x * x + y2 * y * y);
  };
  const stints = stintOrder(truth, random);
  const count = stints.reduce((total, head) => total + truth.shotsInStint[head]!, 0);
  const rows: { head: number; stint: number; x: number; y: number; carry: number }[] = [];
  stints.forEach((head, index) => {
    const { strike, scatter } = truth.heads[head]!;
    const shared = truth.stintSd * normal();
    for (let shot = 0; shot < truth.shotsInStint[head]!; shot++) {
      const [x, y] = [strike[0] + strikeSd[0] * normal(), strike[1] + strikeSd[1] * normal()];
      const time = rows.length / (count - 1);
      rows.push({ head, stint: index + 1, x, y, carry: carryAt(head, x, y) + truth.drift(time) + shared + truth.shotSd * scatter * normal() });
    }
  });
  const table = makeTable(
    [
      textColumn("session", rows.map(() => "invented"), "stated"),
      numberColumn("shot", rows.map((_, i) => i + 1), null, "stated"),
      textColumn("head", rows.map((row) => truth.heads[row.head]!.name), "stated"),
      textColumn("player", rows.map(() => "P1"), "stated"),
      numberColumn("stint", rows.map((row) => row.stint), null, "derived"),
      textColumn("intent", rows.map(() => "stock"), "stated"),
      numberColumn("strike_x", rows.map((row) => row.x), "mm", "measured"),
      numberColumn("strike_y", rows.map((row) => row.y), "mm", "measured"),
      numberColumn("carry", rows.map((row) => row.carry), "yd", "measured"),
    ],
    rows.length,
    { sessions: [factsOf(truth, rows.length)] },
  );
  return { table, carryAt, strikes: rows.map(({ head, x, y }) => ({ head, x, y })) };
}

/** The heads of the stints, in the order in which they are hit. */
function stintOrder(truth: Truth, random: () => number): readonly number[] {
  const heads = truth.heads.map((_, head) => head);
  if (truth.order === "in one go") return heads;
  const order: number[] = [];
  for (let pass = 0; pass < truth.passes; pass++) {
    let next = shuffled(heads, random);
    // A head that ends one pass does not begin the next: that would be one stint.
    while (next[0] === order.at(-1)) next = shuffled(heads, random);
    order.push(...next);
  }
  return order;
}

function shuffled(items: readonly number[], random: () => number): number[] {
  const mixed = [...items];
  for (let i = mixed.length - 1; i > 0; i--) {
    const other = Math.floor(random() * (i + 1));
    [mixed[i], mixed[other]] = [mixed[other]!, mixed[i]!];
  }
  return mixed;
}

function factsOf(truth: Truth, shotCount: number): SessionFacts {
  return {
    name: "invented",
    file: "invented.session.yaml",
    date: null,
    synthetic: true,
    player: "P1",
    hand: "right",
    orderKnown: true,
    calculated: [],
    carryIs: "as played",
    air: {},
    ball: null,
    heads: truth.heads.map(({ name }) => ({ name, kind: "wood", strikeReference: { x: 0, y: 0 } })),
    shotCount,
    setAside: [],
    margins: {},
  };
}

/** Carry of each head over the strikes of all heads, each head's strikes with equal weight in all, in yd. */
export function sameStrikesTruth({ strikes, carryAt }: InventedSession, heads: number): readonly number[] {
  const counts = Array.from({ length: heads }, (_, head) => strikes.filter((strike) => strike.head === head).length);
  return counts.map((_, head) => strikes.reduce((total, { head: of, x, y }) => total + carryAt(head, x, y) / (heads * counts[of]!), 0));
}
