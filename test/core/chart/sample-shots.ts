import type { HeadBuild } from "../../../core/session/session-facts";
import type { Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { sampleSession } from "../present/sample-tables";

/** Numbers between 0 and 1 that look random and are the same each time. Source: Park & Miller 1988, CACM 31:1192. */
function sequence(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48271) % 2147483647) / 2147483647;
}

const designs = { Heron: "cavity", Plover: "hollow", Wren: "blade" } as const;

/** Invented shots: `perHead` of each bird, three at a time, with a fall-off from the centre of the face. */
export function sampleShots(wanted: { perHead?: number; heads?: readonly string[]; session?: string; hand?: "right" | "left" } = {}): Table {
  const { perHead = 30, heads = ["Heron", "Plover", "Wren"], session = "bay-1", hand = "right" } = wanted;
  const next = sequence(7);
  const normal = (): number => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
  const rows = Array.from({ length: perHead * heads.length }, (_, i) => {
    const stint = Math.floor(i / 3);
    const head = heads[stint % heads.length]!;
    const [x, y] = [2 + 8 * normal(), -1 + 5 * normal()];
    const loss = 0.02 * x * x + 0.04 * y * y;
    return {
      shot: i + 1,
      stint: stint + 1,
      head,
      strike_x: i === 4 ? null : x,
      strike_y: i === 4 ? null : y,
      ball_speed: 118 - loss / 2 + normal(),
      carry: i === 10 ? null : 161 + 3 * heads.indexOf(head) - loss - i / 40 + 3 * normal(),
      offline: 0.5 * x + 6 * normal(),
    };
  });
  const builds = heads.map(
    (name): HeadBuild => ({ name, kind: "iron", design: designs[name as keyof typeof designs] ?? "blade", strikeReference: { x: 0, y: -9 } }),
  );
  const facts = sampleSession({ name: session, synthetic: true, hand, heads: builds, shotCount: rows.length });
  return makeTable(
    [
      textColumn("session", rows.map(() => session), "stated"),
      numberColumn("shot", rows.map((row) => row.shot), null, "stated"),
      textColumn("head", rows.map((row) => row.head), "stated"),
      numberColumn("stint", rows.map((row) => row.stint), null, "derived"),
      numberColumn("strike_x", rows.map((row) => row.strike_x), "mm", "measured"),
      numberColumn("strike_y", rows.map((row) => row.strike_y), "mm", "measured"),
      numberColumn("ball_speed", rows.map((row) => row.ball_speed), "mph", "measured"),
      numberColumn("carry", rows.map((row) => row.carry), "yd", "calculated"),
      numberColumn("offline", rows.map((row) => row.offline), "yd", "calculated"),
    ],
    rows.length,
    { sessions: [facts] },
  );
}
