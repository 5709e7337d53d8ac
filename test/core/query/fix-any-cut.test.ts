import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Problem } from "../../../core/problem";
import { applyEdits } from "../../../core/session/apply-edits";
import { check, header } from "./query-support";

const bodies = [
  'const far = shots.filter(d => d.carry > 150 && d.head === "Wren");\nfar.rollup({ typical: op.median("carry"), q: op.quantile("carry", 0.9) })',
  'shots.derive({ a: d => op.abs(d.offline) / d.carry, b: d => d.head === "Wren" ? 1 : null }).select("a", "b", "head")',
  'shots.compare({ of: "carry", by: "head", margin: "3 yd", strikes: "as struck" })',
  'shots.join(heads, "head").groupby("head").count().orderby(op.desc("count")).slice(0, 3)',
  'chart.landing(shots.filter(d => d.carry ?? 0 > 1 & d.offline = 3), { by: "head" })',
  "text`Heron: ${shots.compare({ of: \u201ccarry\u201d, margin: 3yd }).sentences()} and ${shots.count().one(\"count\")}`",
];

const noise = fc.constantFrom("", "(", ")", '"', "'", "`", "\u201c", "\u2212", "=", "==", "??", "?.", "**", " and ", ".", ",", "{", "}", "\u200b", "let ", "3yd", "Math.", ".length");

const placed = ({ code, message, range }: Problem): string => `${code} ${message} ${range.start.line}:${range.start.column}`;

test("L-09 in any broken text a fix can be made, and the problem it is for is gone", () => {
  const broken = fc.tuple(fc.constantFrom(...bodies), fc.nat(), fc.nat(), noise).map(([body, a, b, more]) => {
    const [from, to] = [a % (body.length + 1), b % (body.length + 1)].sort((x, y) => x - y) as [number, number];
    // Either a stretch is cut out, or something is put in.
    return more === "" ? body.slice(0, from) + body.slice(to) : body.slice(0, from) + more + body.slice(from);
  });
  fc.assert(
    fc.property(broken, (body) => {
      for (const found of check(body).problems) {
        if (found.fix === undefined) continue;
        const after = applyEdits(header + body, found.fix.edits);
        expect(after.startsWith(header), body).toBe(true);
        expect(check(after.slice(header.length)).problems.map(placed), `${body}\n${found.fix.title}\n${after}`).not.toContain(placed(found));
      }
    }),
    { seed: 9, numRuns: 4000 },
  );
});
