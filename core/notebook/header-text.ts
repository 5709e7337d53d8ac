/** One piece of a header line: `name=value`, or a word without `=`. Offsets are in the line. */
export interface HeaderPiece {
  /** `null` for a word that is no attribute. */
  readonly name: string | null;
  readonly from: number;
  readonly to: number;
  /** The value, without quotes and with `\"` and `\\` between double quotes resolved; "" for a word. */
  readonly value: string;
  readonly valueFrom: number;
  /** False when a quote is never closed: the value then goes to the end of the line. */
  readonly closed: boolean;
}

/** Splits a header line into attributes and words, in linear time; nothing is refused. */
export function splitHeader(line: string): readonly HeaderPiece[] {
  const pieces: HeaderPiece[] = [];
  const word = /[^ \t=]*/y;
  for (let at = skipSpace(line, 0); at < line.length; at = skipSpace(line, pieces.at(-1)!.to)) {
    word.lastIndex = at;
    const name = word.exec(line)![0];
    const valueFrom = at + name.length + 1;
    if (name === "" || line[valueFrom - 1] !== "=") {
      const to = endOfWord(line, at);
      pieces.push({ name: null, from: at, to, value: "", valueFrom: to, closed: true });
      continue;
    }
    const quote = line[valueFrom];
    if (quote === '"' || quote === "'") pieces.push(quotedPiece(line, name, at, valueFrom, quote));
    else {
      const to = endOfWord(line, valueFrom);
      pieces.push({ name, from: at, to, value: line.slice(valueFrom, to), valueFrom, closed: true });
    }
  }
  return pieces;
}

/**
 * What cell a header line belongs to: the kind of its first `query=` or `chart=`, where nothing but attributes stands
 * before it; `null` when it is no header line.
 */
export function headerKind(line: string): "query" | "chart" | null {
  for (const { name } of splitHeader(line)) {
    if (name === null) return null;
    if (name === "query" || name === "chart") return name;
  }
  return null;
}

function quotedPiece(line: string, name: string, from: number, valueFrom: number, quote: string): HeaderPiece {
  let value = "";
  let at = valueFrom + 1;
  for (; at < line.length && line[at] !== quote; at++) {
    const next = line[at + 1];
    if (quote === '"' && line[at] === "\\" && (next === '"' || next === "\\")) at++;
    value += line[at];
  }
  const closed = at < line.length;
  return { name, from, to: closed ? at + 1 : line.length, value, valueFrom, closed };
}

function skipSpace(line: string, at: number): number {
  let next = at;
  while (line[next] === " " || line[next] === "\t") next++;
  return next;
}

function endOfWord(line: string, at: number): number {
  let next = at;
  while (next < line.length && line[next] !== " " && line[next] !== "\t") next++;
  return next;
}
