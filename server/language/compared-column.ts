import type { ColumnSchema } from "../../core/table/schema";
import { textOfString, type Piece } from "./query-pieces";
import type { QueryPlace } from "./query-place";

/** Signs that compare; `==` and `!=` are offered values too, since their fix makes them `===` and `!==`. */
const comparing: ReadonlySet<string> = new Set(["===", "!==", "==", "!="]);

/** The column that what stands at the cursor is compared with, by a sign on either side or by a function; `null` for none. */
export function comparedColumn(place: QueryPlace): ColumnSchema | null {
  const { before, after, frames, next, closed } = place.context;
  if (place.row === null) return null;
  if (comparing.has(before.at(-1)?.text ?? "")) return columnBetween(place, before.slice(-5, -1), "end");
  if (comparing.has(next) && closed) return columnBetween(place, after.slice(1, 5), "start");
  const frame = frames.at(-1);
  if (frame === undefined || frame.commas === 0 || place.callOf(frames.length - 1)?.kind !== "function") return null;
  const comma = before.findIndex((piece, i) => i > frame.at && piece.text === ",");
  const first = before.slice(frame.at + 1, comma);
  return first.length === 3 || first.length === 4 ? columnBetween(place, first, "start") : null;
}

/** The column that pieces start or end with: `d.head` or `d["head"]`. */
function columnBetween({ row }: QueryPlace, pieces: readonly Piece[], side: "start" | "end"): ColumnSchema | null {
  const find = (name: string): ColumnSchema | null => row?.columns.columns.find((column) => column.name === name) ?? null;
  const [three, four] = side === "start" ? [pieces.slice(0, 3), pieces.slice(0, 4)] : [pieces.slice(-3), pieces.slice(-4)];
  if (three[0]?.text === row?.name && three[1]?.text === "." && three[2]?.kind === "name") return find(three[2].text);
  if (four[0]?.text === row?.name && four[1]?.text === "[" && four[2]?.kind === "string" && four[3]?.text === "]") return find(textOfString(four[2]));
  return null;
}
