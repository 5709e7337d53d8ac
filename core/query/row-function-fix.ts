import type { Fix, TextEdit } from "../problem";
import type { Schema } from "../table/schema";
import type { RowSurroundings } from "./check-row";
import type { Syntax } from "./syntax";

/**
 * A calculation where a row function is wanted, with `d => ` before it and `d.` before each column in it; `undefined`
 * where neither a column nor `d` stands in it.
 *
 * @param wantsTruth whether the function has to give true or false, as a column by itself seldom does.
 */
export function rowFunctionFix(node: Syntax, input: Schema, { constants, reporter }: RowSurroundings, wantsTruth: boolean): Fix | undefined {
  const { rows, bare } = namesIn(node);
  const columns = bare.filter(({ name }) => name !== "op" && name !== "d" && !constants.has(name) && input.columns.some((column) => column.name === name));
  if (columns.length === 0) return rows.has("d") ? reporter.replacing("Write d => before it", { from: node.from, to: node.from }, "d => ") : undefined;
  if (wantsTruth && node.kind === "name" && input.columns.some(({ name, kind }) => name === node.name && kind !== "truth")) return undefined;
  const edits: TextEdit[] = columns.map(({ from }) => ({ range: reporter.rangeOf({ from, to: from }), text: from === node.from ? "d => d." : "d." }));
  if (columns.every(({ from }) => from !== node.from)) edits.unshift({ range: reporter.rangeOf({ from: node.from, to: node.from }), text: "d => " });
  return { title: "Write d => before it, and d. before columns", edits };
}

type Name = Extract<Syntax, { kind: "name" }>;

/** The names of which a piece of syntax takes members, `d` for `d.carry > 150`, and all that are no member. None inside a row function. */
function namesIn(node: Syntax): { readonly rows: ReadonlySet<string>; readonly bare: readonly Name[] } {
  const rows = new Set<string>();
  const bare: Name[] = [];
  const visit = (each: Syntax): void => {
    switch (each.kind) {
      case "name":
        bare.push(each);
        return;
      case "member":
        if (each.of.kind === "name") rows.add(each.of.name);
        return visit(each.of);
      case "call":
        if (each.callee.kind === "member") visit(each.callee);
        for (const given of each.given) visit(given);
        return;
      case "negate":
      case "not":
        return visit(each.of);
      case "list":
        return each.items.forEach(visit);
      case "binary":
        visit(each.left);
        return visit(each.right);
      case "choose":
        visit(each.test);
        visit(each.yes);
        return visit(each.no);
      default:
        return;
    }
  };
  visit(node);
  return { rows, bare };
}
