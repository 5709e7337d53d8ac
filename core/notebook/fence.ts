import type { Cell, CellForm } from "./document";
import { headerKind } from "./header-text";

/** The first line of a fenced block that is a cell. */
export interface Opening {
  readonly kind: "query" | "chart";
  readonly indent: number;
  readonly fence: string;
  readonly word: string;
  readonly gap: string;
  readonly header: string;
  readonly trail: string;
}

/** The info word that a cell of each kind has unless the file says otherwise. */
const canonicalWord = { query: "js", chart: "json" } as const;

/** The fence that opens on `line`, spaces before it and what follows; `null` when none does (CommonMark 0.31, 4.5). */
export function fenceOf(line: string): { readonly indent: number; readonly fence: string; readonly info: string } | null {
  const found = /^( {0,3})(`{3,}|~{3,})(.*)$/s.exec(line);
  if (found === null) return null;
  const [, space, fence, info] = found as unknown as [string, string, string, string];
  return fence.startsWith("`") && info.includes("`") ? null : { indent: space.length, fence, info };
}

/** True when `line` closes a block that `fence` opened. */
export function closesFence(line: string, fence: string): boolean {
  const found = /^ {0,3}(`{3,}|~{3,})[ \t]*$/.exec(line)?.[1];
  return found !== undefined && found[0] === fence[0] && found.length >= fence.length;
}

/**
 * Reads `line` as the opening of a cell: a fence, perhaps an info word, then a header line with `query=` or `chart=`;
 * `null` for every other line.
 *
 * The info word is what stands first, when it has no `=` in it. Any word will do (`js`, `json`, `javascript`), in any
 * case; `query` and `chart` are in lower case and no other word stands before them.
 */
export function readOpening(line: string): Opening | null {
  const found = fenceOf(line);
  if (found === null) return null;
  const [, lead, first, rest] = /^([ \t]*)([^ \t]*)(.*)$/s.exec(found.info) as unknown as [string, string, string, string];
  const hasWord = !first.includes("=");
  const [, gap, written] = /^([ \t]*)(.*)$/s.exec(hasWord ? rest : first + rest) as unknown as [string, string, string];
  const header = withoutTrail(written);
  const kind = headerKind(header);
  if (kind === null) return null;
  return {
    kind,
    indent: found.indent,
    fence: found.fence,
    word: hasWord ? first : "",
    gap: hasWord ? gap : lead,
    header,
    trail: written.slice(header.length),
  };
}

/** A fenced block as a cell: its text, and how it differs from the canonical form. */
export function readFence(lines: readonly string[], opening: Opening, closed: boolean): { readonly text: string; readonly form: CellForm } {
  const body = lines.slice(1, closed ? -1 : undefined).map((line) => withoutIndent(line, opening.indent));
  const closing = closed ? lines.at(-1)! : "";
  const form: CellForm = {
    ...(opening.indent > 0 ? { indent: opening.indent } : {}),
    ...(opening.fence !== "```" ? { fence: opening.fence } : {}),
    ...(closing !== " ".repeat(opening.indent) + opening.fence ? { closing } : {}),
    ...(opening.word !== canonicalWord[opening.kind] ? { word: opening.word } : {}),
    ...(opening.gap !== " " ? { gap: opening.gap } : {}),
    ...(opening.trail !== "" ? { trail: opening.trail } : {}),
  };
  return { text: [opening.header, ...body].join("\n"), form };
}

/**
 * The lines of a query or chart cell in a file. The text must begin with a header line.
 *
 * What the form asks for is done as far as it gives the same cell again; the fence grows where a line of the body
 * would close it.
 *
 * @param mayStayOpen whether the end of the file may close the fence.
 */
export function printFence(cell: Cell, form: CellForm, mayStayOpen: boolean): readonly string[] {
  const [first = "", ...body] = cell.text.split("\n");
  const header = withoutTrail(first.replace(/^[ \t]+/, ""));
  const kind = headerKind(header) ?? "query";
  const indent = " ".repeat(indentOf(form));
  const printed = body.map((line) => (line === "" ? "" : indent + line));
  const fence = longEnough(fenceFor(form, header), printed);
  const canonical = `${indent}${fence}${canonicalWord[kind]} ${header}`;
  const asked = `${indent}${fence}${form.word ?? canonicalWord[kind]}${form.gap ?? " "}${header}${form.trail ?? ""}`;
  const again = readOpening(asked);
  const opening = again?.header === header && again.fence === fence && again.word === (form.word ?? canonicalWord[kind]) ? asked : canonical;
  const closing = form.closing !== undefined && closesFence(form.closing, fence) ? form.closing : indent + fence;
  return mayStayOpen && form.closing === "" ? [opening, ...printed] : [opening, ...printed, closing];
}

/** A fenced block of text that is no cell, with a fence that the text cannot close. */
export function fenced(word: string, text: string): string {
  const lines = text === "" ? [] : text.split("\n");
  const fence = longEnough("```", lines);
  return [`${fence}${word.replace(/[`\s=]/g, "")}`, ...lines, fence].join("\n");
}

/** The line without the spaces that an indented fence takes off its content: at most `indent`, and no tabs. */
export function withoutIndent(line: string, indent: number): string {
  let spaces = 0;
  while (spaces < indent && line[spaces] === " ") spaces++;
  return line.slice(spaces);
}

function indentOf(form: CellForm): number {
  return form.indent === 1 || form.indent === 2 || form.indent === 3 ? form.indent : 0;
}

/** The fence that the form asks for, where it can open a line with this header: one of backticks allows none after it. */
function fenceFor(form: CellForm, header: string): string {
  const asked = form.fence !== undefined && /^(?:`{3,}|~{3,})$/.test(form.fence) ? form.fence : "```";
  return asked.startsWith("`") && header.includes("`") ? "~~~" : asked;
}

/** The fence, made longer than the longest line of the body that would close it. */
function longEnough(fence: string, body: readonly string[]): string {
  const closing = body.filter((line) => closesFence(line, fence)).map((line) => line.trim().length);
  return closing.reduce((longest, length) => (length >= longest.length ? fence[0]!.repeat(length + 1) : longest), fence);
}

function withoutTrail(text: string): string {
  let end = text.length;
  while (end > 0 && (text[end - 1] === " " || text[end - 1] === "\t")) end--;
  return text.slice(0, end);
}
