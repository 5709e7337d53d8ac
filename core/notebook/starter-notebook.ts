import { shotColumns, type ShotColumn } from "../table/shot-columns";
import { unitSystems, type UnitSystem } from "../units";

/** What a starter notebook is about. */
export interface StarterNotebook {
  readonly title: string;
  /** The session file, from the folder of the notebook. */
  readonly sessionPath: string;
  /** Shot columns that have values. */
  readonly columns: readonly ShotColumn[];
  readonly headCount: number;
  /** The units of its tables. */
  readonly units: UnitSystem;
}

/** The margin of a distance in a notebook in metres: as round a number as the default in yards. */
const metricMargin = "3 m";

/** Returns the text of a notebook with a first look at a session: only cells that run with the columns that are there. */
export function starterNotebook({ title, sessionPath, columns, headCount, units }: StarterNotebook): string {
  const has = (...wanted: readonly ShotColumn[]): boolean => wanted.every((column) => columns.includes(column));
  const primary = (["carry", "ball_speed", "total", "club_speed"] as const).find((column) => columns.includes(column));
  const isUsual = units === unitSystems[0];
  const margin = isUsual || primary === undefined || shotColumns[primary].quantity !== "distance" ? "" : `margin: { ${primary}: ${metricMargin} }\n`;
  const cell = (name: string, text: string): string => `\`\`\`js query=${name}\n${text}\n\`\`\``;
  const parts = [
    `---\nfairstrike: 1\ntitle: ${JSON.stringify(title)}\nshots: ${JSON.stringify(sessionPath)}\n${isUsual ? "" : `units: ${units}\n`}${margin}---`,
    `# ${title.replace(/[\\`*_[\]<>#|&!~$]/gu, String.raw`\$&`)}`,
    "What was hit, head by head. Warm-up and shaped shots are counted here and left out below.",
    cell("what_was_hit", 'shots.groupby("head", "intent").rollup({ shots: op.count() })'),
    cell("stock", 'shots.filter(d => d.intent === "stock")'),
    ...(has("carry", "offline") ? ["## Where they landed", cell("landing", 'chart.landing(stock, { by: "head" })')] : []),
    ...(has("strike_x", "strike_y") ? ["## Where the face was hit", cell("strikes", 'chart.strikes(stock, { by: "head" })')] : []),
    ...(primary === undefined ? [] : ["## Head by head", cell("described", `stock.describe({ of: "${primary}", by: "head" })`)]),
    ...(primary !== undefined && headCount > 1 ? ["Which head gives more, by an amount that matters?", cell("compared", `stock.compare({ of: "${primary}", by: "head" })`)] : []),
    "## Values that other readings speak against",
    cell("doubted", "shots.suspects()"),
  ];
  return `${parts.join("\n\n")}\n`;
}
