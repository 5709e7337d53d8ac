import type { Problem } from "./problem";

/** Of what is wrong with a text's meaning, that which does not stand on a line that is no YAML: it follows from that almost always. */
export function besidesSyntax(problems: readonly Problem[], found: readonly Problem[]): readonly Problem[] {
  const broken = new Set(found.flatMap(({ code, range }) => (code === "yaml.syntax" || code === "yaml.tab" ? range.start.line : [])));
  return problems.filter(({ range }) => !broken.has(range.start.line));
}
