import type { TableExpression } from "../../core/query/table-expression";
import { givesShotsAgain } from "../../core/verbs/result-columns";
import type { NotebookView } from "./notebook-view";

/**
 * True for a table whose rows sum shots up, or are pairs or places, so that no verb of the trade works on it: it comes
 * after one, or after rollup and its like, in this cell or in one that it names.
 *
 * @param constants the tables of its cell's constants.
 * @param seen names gone through: cells, and constants, may name one another in a ring while they are written.
 */
export function isSummary(view: NotebookView, table: TableExpression, constants: ReadonlyMap<string, TableExpression>, seen: readonly string[] = []): boolean {
  const { source, steps } = table;
  if (steps.some(({ verb, before, after }) => (verb.family === "trade" ? !givesShotsAgain(verb.name) : before.fromShots && !after.fromShots))) return true;
  if (source.kind === "constant") {
    const constant = constants.get(source.name);
    const own = `const ${source.name}`;
    return constant !== undefined && !seen.includes(own) && isSummary(view, constant, constants, [...seen, own]);
  }
  if (source.kind !== "named" || seen.includes(source.name)) return false;
  const cell = view.notebook.cells.find(({ isNamed, name }) => isNamed && name === source.name);
  const query = cell === undefined ? null : (view.cells[cell.index]?.checked.query ?? null);
  return query?.expression.kind === "table" && isSummary(view, query.expression.table, query.tables, [...seen, source.name]);
}
