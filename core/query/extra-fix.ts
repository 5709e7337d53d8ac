import type { Fix } from "../problem";
import type { Reporter } from "./reporter";
import { removingFrom } from "./row-fixes";
import type { Syntax } from "./syntax";

/**
 * The fix for more arguments than the first `most`: points in place of as many decimal commas, `1,5`, where those alone
 * made them too many, else the fix that takes the rest out.
 */
export function extraFix(given: readonly Syntax[], most: number, reporter: Reporter): Fix | undefined {
  return decimalPoints(given, given.length - most, reporter) ?? removingFrom(given, most, reporter);
}

/** `1,5` with a point, where `count` commas between arguments have digits, and no space, on both sides. */
function decimalPoints(given: readonly Syntax[], count: number, reporter: Reporter): Fix | undefined {
  const commas = given.flatMap((node, index) => {
    const before = given[index - 1];
    if (before === undefined || reporter.textOf({ from: before.to, to: node.from }) !== ",") return [];
    const [whole, part] = [/(?<![\p{ID_Continue}$.])\d+$/u.exec(reporter.textOf(before))?.[0], /^\d+(?![\p{ID_Continue}$.])/u.exec(reporter.textOf(node))?.[0]];
    return whole === undefined || part === undefined ? [] : [{ at: before.to, written: `${whole}.${part}` }];
  });
  if (commas.length !== count) return undefined;
  const title = `Write ${commas.map(({ written }) => written).join(" and ")}`;
  return { title, edits: commas.map(({ at }) => ({ range: reporter.rangeOf({ from: at, to: at + 1 }), text: "." })) };
}
