/** How a line ends: "" for the last one of a text. */
export type LineEnd = "\n" | "\r\n" | "\r" | "";

/** One line of a text, without and with its end. */
export interface TextLine {
  readonly text: string;
  readonly end: LineEnd;
}

/** The lines of a text, at least one; LF, CRLF and a lone CR each end a line. Joined again they are the text. */
export function splitLines(text: string): readonly TextLine[] {
  const lines: TextLine[] = [];
  let from = 0;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c !== 10 && c !== 13) continue;
    const end = c === 10 ? "\n" : text.charCodeAt(i + 1) === 10 ? "\r\n" : "\r";
    lines.push({ text: text.slice(from, i), end });
    from = i + end.length;
    i = from - 1;
  }
  lines.push({ text: text.slice(from), end: "" });
  return lines;
}

/** The lines `from` up to `to` as they stand, each with its end. */
export function joinLines(lines: readonly TextLine[], from: number, to: number): string {
  let text = "";
  for (let i = from; i < to; i++) text += lines[i]!.text + lines[i]!.end;
  return text;
}

/** The text with every line end made LF. */
export function withLf(text: string): string {
  return text.includes("\r") ? text.replace(/\r\n?/g, "\n") : text;
}

/** The line end that most lines have; of equally common ones LF, then CRLF, wins; LF where there is none. */
export function commonLineEnd(lines: readonly TextLine[]): "\n" | "\r\n" | "\r" {
  const count = { "\n": 0, "\r\n": 0, "\r": 0, "": 0 };
  for (const line of lines) count[line.end]++;
  if (count["\n"] >= count["\r\n"] && count["\n"] >= count["\r"]) return "\n";
  return count["\r\n"] >= count["\r"] ? "\r\n" : "\r";
}

/** True for a line, or a text, of spaces, tabs and line ends alone. */
export function isBlank(text: string): boolean {
  return /^[ \t\r\n]*$/.test(text);
}
