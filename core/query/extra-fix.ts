import type { Reporter } from "./reporter";
import { joinedObjects, type ExtraMeant } from "./joined-fix";
import { removingFrom } from "./row-fixes";
import type { Syntax } from "./syntax";

/** Reports the first of more arguments than the first `most`, with what was meant by them. */
export function sayExtra(call: string, given: readonly Syntax[], most: number, reporter: Reporter, { instead, fix }: ExtraMeant = extraMeant(given, most, reporter)): void {
  reporter.say("query.too-many-arguments", { call, most, instead }, given[most]!, fix);
}

/**
 * What was meant by more arguments than the first `most`: points in place of as many decimal commas, `1,5`, where those
 * alone made them too many; nothing that a fix could do where commas in numbers may mean two things, as in `1,500` and
 * `1,5,2`; the entries of several objects in one; else nothing, so that the rest is taken out where a person asks for it.
 */
export function extraMeant(given: readonly Syntax[], most: number, reporter: Reporter): ExtraMeant {
  const commas = commasInNumbers(given, reporter);
  if (commas.length === 0) return (most > 0 ? joinedObjects(given.slice(most - 1), reporter) : undefined) ?? takenOut(given, most, reporter);
  const thousands = commas.find(({ whole, part }) => isThousands(whole, part));
  if (thousands !== undefined) return { instead: `write ${thousands.whole}${thousands.part}, or ${thousands.whole}.${thousands.part} if the comma stands before decimals` };
  if (commas.length !== given.length - most || commas.some(({ isShared }) => isShared)) return { instead: "a comma begins another argument: numbers have none in them, and a point before decimals" };
  const written = commas.map(({ whole, part }) => `${whole}.${part}`).join(" and ");
  const edits = commas.map(({ at }) => ({ range: reporter.rangeOf({ from: at, to: at + 1 }), text: "." }));
  return { instead: `decimals stand behind a point: write ${written}`, fix: { title: `Write ${written}`, edits } };
}

/** The rest of the arguments taken out: what was written there is lost, so that only a person can say that it is not wanted. */
export function takenOut(given: readonly Syntax[], most: number, reporter: Reporter): ExtraMeant {
  const fix = removingFrom(given, most, reporter);
  return { fix: fix && { ...fix, byPerson: true } };
}

/** True for digits around a comma that may stand between thousands as well as before decimals: `1,500`, but not `0,125`. */
export function isThousands(whole: string, part: string): boolean {
  return /^[1-9]\d{0,2}$/u.test(whole) && part.length === 3;
}

/** The commas between arguments with digits, and no space, on both sides; shared where the number behind has another behind it. */
function commasInNumbers(given: readonly Syntax[], reporter: Reporter) {
  const commas = given.flatMap((node, index) => {
    const before = given[index - 1];
    if (before === undefined || reporter.textOf({ from: before.to, to: node.from }) !== ",") return [];
    const [whole, part] = [/(?<![\p{ID_Continue}$.])\d+$/u.exec(reporter.textOf(before))?.[0], /^\d+(?![\p{ID_Continue}$.])/u.exec(reporter.textOf(node))?.[0]];
    return whole === undefined || part === undefined ? [] : [{ at: before.to, whole, part }];
  });
  return commas.map((comma, index) => ({ ...comma, isShared: commas[index + 1]?.at === comma.at + 1 + comma.part.length }));
}
