/** Two heads in two stints each, twelve shots; every one is invented. */
export const smallExport = [
  "No,Club,Ball speed,Carry,Side",
  "1,Wren,112.0,150.0,-3.0",
  "2,Wren,113.0,152.0,1.0",
  "3,Wren,111.0,149.0,4.0",
  "4,Heron,116.0,158.0,-2.0",
  "5,Heron,115.0,157.0,0.5",
  "6,Heron,117.0,161.0,6.0",
  "7,Wren,114.0,153.0,-1.0",
  "8,Wren,112.5,151.0,2.0",
  "9,Wren,113.5,152.5,-5.0",
  "10,Heron,116.5,159.5,3.0",
  "11,Heron,114.5,156.0,-4.0",
  "12,Heron,115.5,158.5,1.5",
  "",
].join("\n");

/** A session file for an export with the columns of `smallExport`. */
export function smallSession(name: string, file = "small.csv", player = "P1"): string {
  return [
    `session: ${name}`,
    "data: synthetic",
    `sources: [{ file: ${file}, order: shot }]`,
    `player: { name: ${player}, hand: right }`,
    "columns:",
    '  shot: "No"',
    "  head: Club",
    "  ball_speed: { from: Ball speed, unit: mph }",
    "  carry: { from: Carry, unit: yd }",
    "  offline: { from: Side, unit: yd, positive: right }",
    "heads:",
    "  Wren: { kind: iron, loft: 34 deg }",
    "  Heron: { kind: iron, loft: 34 deg }",
    "",
  ].join("\n");
}

/** The files of one small session, `s/one.session.yaml` with its export. */
export const smallFiles: Readonly<Record<string, string>> = {
  "s/one.session.yaml": smallSession("one"),
  "s/small.csv": smallExport,
};

/** A notebook's text: front matter, and cells given as `query=name` or `chart=…` lines with their bodies below. */
export function notebookText(front: string, ...cells: readonly string[]): string {
  const fence = "```";
  return [`---\n${front}\n---`, ...cells.map((cell) => `${fence}${cell.startsWith("chart") ? "json" : "js"} ${cell}\n${fence}`), ""].join("\n\n");
}
