import type { NotebookChoice } from "../notebook/choice";
import type { Reporter } from "./reporter";
import type { CellSyntax, Syntax } from "./syntax";

/** A member of `chosen`, `chosen.what`. */
type ChosenMember = Extract<Syntax, { kind: "member" }> & { readonly of: { readonly kind: "name"; readonly name: "chosen" } };

/** True for `chosen.what`, which stands for the word of a choice. */
export function isChosen(node: Syntax): node is ChosenMember {
  return node.kind === "member" && node.of.kind === "name" && node.of.name === "chosen";
}

/** The nodes directly inside a node, from left to right. */
export function childrenOf(node: Syntax): readonly Syntax[] {
  switch (node.kind) {
    case "member":
    case "negate":
    case "not":
      return [node.of];
    case "call":
      return [node.callee, ...node.given];
    case "row function":
      return [node.body];
    case "object":
      return node.entries.map(({ value }) => value);
    case "list":
      return node.items;
    case "binary":
      return [node.left, node.right];
    case "choose":
      return [node.test, node.yes, node.no];
    default:
      return [];
  }
}

/**
 * The cell with the word of a choice, as a text literal, wherever `chosen.NAME` stands; `null` where one of them names no
 * choice among words, which was reported. A cell that has none is given back itself.
 */
export function withChosenWords(cell: CellSyntax, choices: readonly NotebookChoice[], reporter: Reporter): CellSyntax | null {
  let hasWrong = false;
  let hasAny = false;

  /** The literal in place of `chosen.NAME`; `null` for any other node. */
  function wordOf(node: Syntax): Syntax | null {
    if (!isChosen(node)) return null;
    hasAny = true;
    const choice = choices.find(({ name }) => name === node.name);
    if (choice?.kind === "word") return { from: node.from, to: node.to, kind: "text", value: choice.word };
    hasWrong = true;
    const words = choices.filter(({ kind }) => kind === "word").map(({ name }) => name);
    if (choice === undefined) reporter.unknown("query.unknown-named-choice", node.name, node.nameSpan, words);
    else reporter.say("query.choice-kind", { name: node.name, instead: `write .choose("${node.name}") on a table` }, node);
    return node;
  }

  function replaced(node: Syntax): Syntax {
    const word = wordOf(node);
    if (word !== null) return word;
    switch (node.kind) {
      case "member":
      case "negate":
      case "not":
        return { ...node, of: replaced(node.of) };
      case "call":
        return { ...node, callee: replaced(node.callee), given: node.given.map(replaced) };
      case "row function":
        return { ...node, body: replaced(node.body) };
      case "object":
        return { ...node, entries: node.entries.map((entry) => ({ ...entry, value: replaced(entry.value) })) };
      case "list":
        return { ...node, items: node.items.map(replaced) };
      case "binary":
        return { ...node, left: replaced(node.left), right: replaced(node.right) };
      case "choose":
        return { ...node, test: replaced(node.test), yes: replaced(node.yes), no: replaced(node.no) };
      default:
        return node;
    }
  }

  const constants = cell.constants.map((constant) => ({ ...constant, value: replaced(constant.value) }));
  const { result } = cell;
  const made: CellSyntax = { constants, result: result.kind === "text with holes" ? { ...result, holes: result.holes.map(replaced) } : replaced(result) };
  if (hasWrong) return null;
  return hasAny ? made : cell;
}
