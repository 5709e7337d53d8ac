import { inFile, problem } from "../problem";
import { fieldRange } from "../table/delimited-text";
import type { ProblemList } from "../table/problem-list";
import type { Draft } from "./draft";
import { isSettled, rowsOfPlaces } from "./draft";
import type { Session } from "./session";

/**
 * Reports where an export of one head names another: the head stated beside the file counts, and each other name in
 * the column that is mapped as head is an error at its first shot, unless a person has corrected the head there.
 */
export function checkStatedHeads(draft: Draft, session: Session, list: ProblemList): void {
  const names = new Map(session.heads.flatMap((head) => [head.name, ...head.called].map((name) => [name, head.name] as const)));
  const rowOf = rowsOfPlaces(draft);
  let start = 0;
  for (const { source, text, rows, columns } of draft.exports) {
    const read = columns.get("head");
    if (source.head !== null && read?.column.kind === "text") {
      const stated = names.get(source.head) ?? source.head;
      const others = read.column.labels.map((label) => ({ label, count: 0, first: -1, isOther: (names.get(label) ?? label) !== stated }));
      read.column.codes.forEach((code, at) => {
        const other = others[code];
        if (other?.isOther !== true || isSettled(draft, "head", rowOf(start + at))) return;
        if (other.count++ === 0) other.first = at;
      });
      for (const { label, count, first } of others) {
        if (count === 0) continue;
        const facts = { head: label, shots: count, stated };
        list.add("session.head-contradicted", () => inFile(problem("session.head-contradicted", facts, fieldRange(text, rows[first]!, read.index)), source.file));
      }
    }
    start += rows.length;
  }
}
