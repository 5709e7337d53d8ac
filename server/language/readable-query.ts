import { checkQuery, type CheckedQuery } from "../../core/query/check-query";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { mendedText } from "./mend-chain";
import { isConst, statementStart, type Piece } from "./query-pieces";

/** Numbers of the first and the last of some pieces. */
export type PieceRange = readonly [first: number, last: number];

/** The constants above the statement that the pieces end in, each as it stands. */
export function constantsBefore(pieces: readonly Piece[]): readonly PieceRange[] {
  const end = statementStart(pieces);
  const starts = [...pieces.keys()].filter((at) => at < end && isConst(pieces, at));
  return starts.map((start, i) => [start, (starts[i + 1] ?? end) - 1]);
}

/**
 * A chain of verbs behind the constants of its cell, checked; `null` where it cannot be read.
 *
 * What is half-typed in it is passed over: entries of objects and conditions one by one, and constants as a whole.
 */
export function readableQuery(
  text: string,
  pieces: readonly Piece[],
  { constants, chain }: { readonly constants: readonly PieceRange[]; readonly chain: PieceRange },
  surroundings: QuerySurroundings,
): CheckedQuery | null {
  const check = (statements: readonly string[]): CheckedQuery | null => checkQuery(statements.join("\n"), 0, surroundings).value;
  const asWritten = ([first, last]: PieceRange): string => text.slice(pieces[first]!.from, pieces[last]!.to);
  const whole = check([...constants, chain].map(asWritten));
  if (whole !== null) return whole;
  const mended = (range: PieceRange): string => mendedText(text, pieces, range, surroundings);
  // Of the constants, the others may be all that is needed.
  const readable = constants.flatMap((range) => [asWritten(range), mended(range)].find((constant) => check([constant, "shots"]) !== null) ?? []);
  return check([...readable, asWritten(chain)]) ?? check([...readable, mended(chain)]);
}
