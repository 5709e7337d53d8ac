import type { TextRange } from "../../core/text-position";
import { lineTable } from "../../core/text-position";
import type { Span } from "../../core/query/syntax";
import type { NotebookView } from "./notebook-view";
import { withoutQuotes, type WrittenName } from "./written-name";

/** What all names of one choice of the front matter have in common. */
export function symbolOfChoice(name: string): string {
  return `named choice:${name}`;
}

/** The names of the choices in the front matter that can be read, where they are declared. */
export function choicesDeclared(view: NotebookView): readonly WrittenName[] {
  const { front, frontIndex } = view.notebook;
  const { text } = view.cells[frontIndex]!;
  const lines = lineTable(text);
  const spanOf = ({ start, end }: TextRange): Span => ({ from: lines.offsetAt(start), to: lines.offsetAt(end) });
  return front.choices.map(({ name, nameRange }): WrittenName => {
    const whole = spanOf(nameRange);
    const isQuoted = text[whole.from] === '"' || text[whole.from] === "'";
    const { from, to } = isQuoted ? withoutQuotes(whole) : whole;
    return { from, to, role: "named choice", name, symbol: symbolOfChoice(name), isDeclaration: true, form: "yaml", whole, ending: "", files: [] };
  });
}
