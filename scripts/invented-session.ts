/** A repeatable stream of numbers in [0, 1): a linear congruential generator, good enough for filling tables. */
export function stream(seed: number): () => number {
  let state = seed >>> 0;
  return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 4294967296;
}

/** The session file of an export `NAME.csv` as `inventExport` makes them. */
export function inventSession(name: string, heads: readonly string[]): string {
  return `session: ${name}
date: 2026-01-01
data: synthetic
sources: [{ file: ${name}.csv, order: file }]
player: { name: P1, hand: right }
columns:
  shot: "No"
  head: Club
  club_speed: { from: Speed, unit: mph }
  ball_speed: { from: Ball, unit: mph }
  launch_angle: { from: Launch, unit: deg }
  start_direction: { from: Start, unit: deg, positive: right }
  spin_rate: { from: Spin, unit: rpm }
  spin_axis: { from: Axis, unit: deg, positive: right }
  carry: { from: Carry, unit: yd }
  offline: { from: Side, unit: yd, positive: right }
  peak_height: { from: Height, unit: ft }
  note: Note
heads:
${heads.map((head) => `  ${head}: { kind: iron, loft: 34 deg }`).join("\n")}
`;
}

/** An invented export of `shots` shots with 12 columns, in stints of four. */
export function inventExport(shots: number, heads: readonly string[], next: () => number): string {
  const lines = ["No,Club,Speed,Ball,Launch,Start,Spin,Axis,Carry,Side,Height,Note"];
  for (let shot = 1; shot <= shots; shot++) {
    const speed = 85 + next() * 8;
    lines.push(
      `${shot},${heads[Math.floor(shot / 4) % heads.length]},${speed.toFixed(1)},${(speed * 1.32).toFixed(1)},${(15 + next() * 5).toFixed(1)},` +
        `${(next() * 4).toFixed(1)},${(5500 + next() * 2000).toFixed(0)},${(next() * 6).toFixed(1)},${(150 + next() * 30).toFixed(1)},` +
        `${(next() * 20 - 10).toFixed(1)},${(80 + next() * 30).toFixed(1)},`,
    );
  }
  return `${lines.join("\n")}\n`;
}
