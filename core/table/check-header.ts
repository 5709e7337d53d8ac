import type { Problem } from "../problem";
import { problem } from "../problem";
import type { TextRange } from "../text-position";
import type { HeaderCell } from "./delimited-text";

/**
 * What a name looks like to somebody who reads quickly: case, width, accents' spelling, spaces and invisible
 * characters do not count. Names with equal looks are confused with one another.
 */
export function looksOf(name: string): string {
  return name
    .normalize("NFKC")
    .replace(/[\p{Cf}\p{Cc}]/gu, "")
    .replace(/[\s_-]+/gu, " ")
    .trim()
    .toLowerCase();
}

/** A name as a field, in quotes where it would not be one field without them. */
function asField(name: string): string {
  return /["\r\n,;\t|]/u.test(name) ? `"${name.replaceAll('"', '""')}"` : name;
}

/**
 * The header's cells with names that are there and distinct, and what was wrong with them as written.
 *
 * @param names the names as written; `null` for one that is not UTF-8.
 * @param numbered true when the session allows the same name twice.
 */
export function checkHeader(
  names: readonly (string | null)[],
  ranges: readonly TextRange[],
  numbered: boolean,
): { readonly header: readonly HeaderCell[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const header: HeaderCell[] = [];
  const taken = new Map<string, number>();
  const looks = new Map<string, string>();
  const written = new Set(names);
  const free = (wanted: (n: number) => string, from: number): string => {
    for (let n = from; ; n++) if (!taken.has(wanted(n)) && !written.has(wanted(n))) return wanted(n);
  };
  names.forEach((given, index) => {
    const range = ranges[index]!;
    let name = given ?? "";
    const first = taken.get(name);
    if (name.trim() === "") {
      name = free((n) => (n === 1 ? `column ${index + 1}` : `column ${index + 1} (${n})`), 1);
      problems.push(problem("csv.empty-header", { column: index + 1, instead: name }, range, { mends: [{ range, text: name }] }));
    } else if (first !== undefined) {
      const same = name;
      name = free((n) => `${same} (${n})`, 2);
      const facts = { name: same, first: first + 1, second: index + 1, instead: name };
      if (!numbered) problems.push(problem("csv.duplicate-header", facts, range, { mends: [{ range, text: asField(name) }] }));
    } else {
      const alike = looks.get(looksOf(name));
      if (alike === undefined) looks.set(looksOf(name), name);
      else problems.push(problem("csv.confusable-header", { name, other: alike }, range));
    }
    taken.set(name, index);
    header.push({ name, range });
  });
  return { header, problems };
}
