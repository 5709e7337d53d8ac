import { inventExport, inventSession, stream } from "../invented-session";

/** A cell of the large notebook. */
export interface LargeCell {
  readonly language: "fairstrike-front" | "fairstrike-query" | "fairstrike-chart";
  readonly text: string;
}

/** A notebook with the files that it names, by path; everything in it is invented. */
export interface LargeNotebook {
  readonly cells: readonly LargeCell[];
  readonly files: Readonly<Record<string, string>>;
}

const heads = ["Wren", "Heron", "Plover", "Dunlin"];

/**
 * A notebook of `cells` cells over `shots` shots in `sessions` sessions, always the same.
 *
 * Cells come in tens that use one another in all sorts of ways; every other ten starts from the one before, so that some
 * chains are long. Every cell is without a mistake.
 */
export function largeNotebook({ cells, shots, sessions }: { readonly cells: number; readonly shots: number; readonly sessions: number }): LargeNotebook {
  const next = stream(7);
  const names = Array.from({ length: sessions }, (_, i) => `day-${i + 1}`);
  const files = names.flatMap((name): [string, string][] => [
    [`sessions/${name}.session.yaml`, inventSession(name, heads)],
    [`sessions/${name}.csv`, inventExport(Math.round(shots / sessions), heads, next)],
  ]);
  const front = `fairstrike: 1\ntitle: A large notebook\nshots:\n${names.map((name) => `  - sessions/${name}.session.yaml`).join("\n")}\nunits: yd-mph\nmargin: { carry: 3 yd }\nseed: 1`;
  const tens = Array.from({ length: Math.ceil(cells / 10) }, (_, ten) => tenCells(ten)).flat();
  const all: LargeCell[] = [{ language: "fairstrike-front", text: front }, ...tens];
  return { cells: all.slice(0, cells), files: Object.fromEntries(files) };
}

function tenCells(ten: number): LargeCell[] {
  const own = `t${ten}`;
  const source = ten % 2 === 1 ? `t${ten - 1}_speed` : "shots";
  const query = (name: string, body: string): LargeCell => ({ language: "fairstrike-query", text: `query=${own}_${name}\n${body}` });
  const spec = { mark: "point", encoding: { x: { field: "offline" }, y: { field: "carry" }, color: { field: "head" } } };
  return [
    query("stock", `${source}.filter(d => d.carry > ${100 + ten} && d.intent === "stock")`),
    query("speed", `${own}_stock\n  .filter(d => d.ball_speed > 60)\n  .derive({ gain_${ten}: d => d.ball_speed / d.club_speed, twice_${ten}: d => d.carry * 2 })`),
    query("means", `${own}_speed.groupby("head").rollup({ carry: op.mean("carry"), gain: op.mean("gain_${ten}"), shots: op.count() })`),
    query("best", `${own}_means.orderby(op.desc("carry")).slice(0, 3)`),
    query("beside", `${own}_speed.join(${own}_means, "head").filter(d => d.carry_1 > 100)`),
    query("gap", `${own}_stock.compare({ of: "carry", by: "head" })`),
    query("landing", `chart.landing(${own}_speed, { by: "head" })`),
    query("far", `${own}_speed.select("head", "session", "carry", "ball_speed").rename({ carry: "far" }).filter(d => d.far > 140)`),
    query("said", `const first = ${own}_best.slice(0, 1)\ntext\`\${first.one("head")} carries \${first.one("carry")}.\``),
    { language: "fairstrike-chart", text: `chart=${own}_picture table=${own}_speed description="Carry and offline by head"\n${JSON.stringify(spec, null, 2)}` },
  ];
}
