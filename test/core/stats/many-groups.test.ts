import * as fc from "fast-check";
import { expect, test } from "vitest";
import { holm } from "../../../core/stats/holm";
import { oneWayAnalysis } from "../../../core/stats/one-way";
import type { GroupContrast } from "../../../core/stats/pair-methods";
import { gamesHowell, tukeyKramer } from "../../../core/stats/pair-methods";
import { familyCritical, familyInterval, familyP } from "../../../core/stats/simultaneous";
import { checksOf, expectClose, split } from "./check-values";

interface Labelled {
  readonly y: number[];
  readonly group: string[];
}
type Groups = Labelled | { readonly groups: number[][] };
interface Pairs {
  readonly pairs: readonly string[];
  readonly diff: readonly number[];
  readonly se?: readonly number[];
  readonly df?: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly pAdj: readonly number[];
}
/** The handbook prints some intervals; what R gives on its data stands beside them. */
interface PrintedPairs {
  readonly printedIntervals: Readonly<Record<string, readonly [number, number]>>;
  readonly full: {
    readonly ss: readonly [number, number];
    readonly ms: readonly [number, number];
    readonly F: number;
    readonly q: number;
    readonly tukey: Omit<Pairs, "pAdj"> & { readonly p: readonly number[] };
  };
}

function pairsOf(expected: Pairs | PrintedPairs): Pairs {
  return "full" in expected ? { ...expected.full.tukey, pAdj: expected.full.tukey.p } : expected;
}

function groupsOf(data: Groups): { names: string[]; groups: number[][] } {
  if ("groups" in data) return { names: data.groups.map((_, i) => String(i + 1)), groups: data.groups };
  return split(data.y, data.group);
}

function checkPairs(method: string, contrastsOf: (groups: number[][]) => readonly GroupContrast[], relative: number): void {
  for (const check of checksOf<Groups, never, Pairs | PrintedPairs>(method)) {
    const expected = pairsOf(check.expected);
    const { names, groups } = groupsOf(check.data);
    const contrasts = new Map(contrastsOf(groups).map((c) => [`${names[c.of]}-${names[c.against]}`, c]));
    expect(contrasts.size).toBe(expected.pairs.length);
    expected.pairs.forEach((pair, i) => {
      const contrast = contrasts.get(pair)!;
      const what = `${check.id} ${pair}`;
      const interval = familyInterval(contrast, groups.length, 0.95);
      expectClose(contrast.difference, expected.diff[i]!, 1e-9, 1e-12, what);
      if (expected.se) expectClose(contrast.standardError, expected.se[i]!, 1e-9, 0, what);
      if (expected.df) expectClose(contrast.df, expected.df[i]!, 1e-9, 0, what);
      expectClose(interval.from, expected.lower[i]!, relative, 1e-7, what);
      expectClose(interval.to, expected.upper[i]!, relative, 1e-7, what);
      expectClose(familyP(contrast, groups.length), expected.pAdj[i]!, 0, 1e-7, what);
    });
  }
}

test("Tukey and Kramer's intervals agree with R and with the NIST handbook", () => checkPairs("tukey-kramer", tukeyKramer, 1e-7));

test("Games and Howell's intervals agree with R", () => checkPairs("games-howell", gamesHowell, 1e-6));

test("the NIST handbook's printed Tukey intervals, section 7.4.7.1", () => {
  const check = checksOf<Groups, never, Pairs | PrintedPairs>("tukey-kramer").find(({ id }) => id === "hb-7.4.7.1-tukey")!;
  const expected = check.expected as PrintedPairs;
  const { groups } = groupsOf(check.data);
  const analysis = oneWayAnalysis(groups);
  const contrasts = tukeyKramer(groups);
  expect(Object.keys(expected.printedIntervals)).toHaveLength(6);
  for (const [pair, [from, to]] of Object.entries(expected.printedIntervals)) {
    const [of, against] = pair.split("-").map((name) => Number(name) - 1);
    const contrast = contrasts.find((c) => c.of === Math.max(of!, against!) && c.against === Math.min(of!, against!))!;
    const interval = familyInterval(contrast, 4, 0.95);
    const turned = of! > against! ? interval : { from: -interval.to, to: -interval.from };
    expectClose(turned.from, from, 0, 0.005, pair);
    expectClose(turned.to, to, 0, 0.005, pair);
  }
  expectClose(analysis.sumBetween, expected.full.ss[0], 1e-11);
  expectClose(analysis.sumWithin, expected.full.ss[1], 1e-11);
  expectClose(analysis.sumBetween / analysis.dfBetween, expected.full.ms[0], 1e-11);
  expectClose(analysis.residualVariance, expected.full.ms[1], 1e-11);
  expectClose(analysis.f, expected.full.F, 1e-11);
  expectClose(familyCritical(0.95, 4, analysis.dfWithin) * Math.SQRT2, expected.full.q, 1e-7);
});

test("one-way analysis of variance agrees with R and with the NIST handbook", () => {
  interface Anova {
    readonly ss: readonly [number, number];
    readonly df?: readonly [number, number];
    readonly F: number;
    readonly p: number;
  }
  /** As the handbook prints it, to three decimals and F to two, with what R gives on its data. */
  interface Printed {
    readonly ssBetween: number;
    readonly ssWithin: number;
    readonly F: number;
    readonly full: Anova;
  }
  for (const check of checksOf<Groups, never, Anova | Printed>("anova-oneway")) {
    const result = oneWayAnalysis(groupsOf(check.data).groups);
    const expected = "full" in check.expected ? check.expected.full : check.expected;
    if ("full" in check.expected) {
      expectClose(result.sumBetween, check.expected.ssBetween, 0, 0.0005, check.id);
      expectClose(result.sumWithin, check.expected.ssWithin, 0, 0.0005, check.id);
      // Printed 9.59; the value is 9.5911.
      expectClose(result.f, check.expected.F, 0, 0.005, check.id);
    }
    expectClose(result.sumBetween, expected.ss[0], 1e-11, 0, check.id);
    expectClose(result.sumWithin, expected.ss[1], 1e-11, 0, check.id);
    expectClose(result.f, expected.F, 1e-11, 0, check.id);
    expectClose(result.p, expected.p, 1e-9, 0, check.id);
  }
});

test("NIST StRD one-way analysis of variance: certified values", () => {
  interface Generator {
    readonly base: string;
    readonly reps: number;
    readonly tenths: readonly number[];
  }
  interface Certified {
    readonly ssBetween: number;
    readonly ssWithin: number;
    readonly F: number;
    readonly residualSd: number;
  }
  // The data themselves hold fewer digits the larger their common part: 1e6 leaves about 10, 1e12 about 4.
  const tolerance: Record<string, number> = { "nist-SmLs04": 1e-8, "nist-SmLs07": 1e-3 };
  const generated = ({ base, reps, tenths }: Generator) =>
    tenths.map((tenth) =>
      Array.from({ length: reps }, (_, i) => Number(`${base}.${tenth + (i === 0 ? 0 : i % 2 === 1 ? -1 : 1)}`)),
    );
  type Data = { readonly generator: Generator } | Labelled;
  for (const check of checksOf<Data, never, Certified>("nist-anova")) {
    const groups = "generator" in check.data ? generated(check.data.generator) : groupsOf(check.data).groups;
    const result = oneWayAnalysis(groups);
    const relative = tolerance[check.id] ?? 1e-11;
    expectClose(result.sumBetween, check.expected.ssBetween, relative, 0, check.id);
    expectClose(result.sumWithin, check.expected.ssWithin, relative, 0, check.id);
    expectClose(result.f, check.expected.F, relative, 0, check.id);
    expectClose(Math.sqrt(result.residualVariance), check.expected.residualSd, relative, 0, check.id);
  }
});

test("Holm's adjusted p values agree with R", () => {
  for (const check of checksOf<never, { pRaw: number[] }, { holm: number[] }>("p-adjust")) {
    holm(check.args.pRaw).forEach((p, i) => expectClose(p, check.expected.holm[i]!, 1e-9, 0, check.id));
  }
});

test("Holm never lowers a p value, keeps their order and does not mind how they are listed", () => {
  const p = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 12 });
  fc.assert(
    fc.property(p, (raw) => {
      const adjusted = holm(raw);
      raw.forEach((a, i) => {
        expect(adjusted[i]).toBeGreaterThanOrEqual(a);
        expect(adjusted[i]).toBeLessThanOrEqual(1);
        raw.forEach((b, j) => a < b && expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j]!));
      });
      expect([...holm([...raw].reverse())].reverse()).toEqual(adjusted);
    }),
    { seed: 41 },
  );
});

test("more means compared at once make every interval wider, fewer degrees of freedom too", () => {
  for (const df of [1, 4, 20, Infinity]) {
    for (let size = 2; size < 8; size++) {
      expect(familyCritical(0.95, size + 1, df)).toBeGreaterThan(familyCritical(0.95, size, df));
    }
  }
  expect(familyCritical(0.95, 4, 5)).toBeGreaterThan(familyCritical(0.95, 4, 6));
  expect(familyCritical(0.95, 3, Number.NaN)).toBeNaN();
});

test("the simultaneous interval inverts its own test", () => {
  const contrast = fc.record({
    difference: fc.double({ min: -10, max: 10, noNaN: true }),
    standardError: fc.double({ min: 0.5, max: 5, noNaN: true }),
    df: fc.double({ min: 1, max: 60, noNaN: true }),
  });
  fc.assert(
    fc.property(contrast, fc.integer({ min: 2, max: 5 }), (given, size) => {
      const { from, to } = familyInterval(given, size, 0.95);
      const p = familyP(given, size);
      fc.pre(Math.abs(p - 0.05) > 1e-8);
      expect(p < 0.05).toBe(from > 0 || to < 0);
    }),
    { seed: 42, numRuns: 60 },
  );
});

test("relabelling groups permutes the pairs and nothing else", () => {
  const groups = [[1, 2, 4], [3, 5, 6, 6.5], [2, 2.5, 9]];
  const turned = [groups[2]!, groups[0]!, groups[1]!];
  for (const method of [tukeyKramer, gamesHowell]) {
    const plain = method(groups).find((c) => c.of === 2 && c.against === 1)!;
    const same = method(turned).find((c) => c.of === 2 && c.against === 0)!;
    expectClose(same.difference, -plain.difference, 1e-14);
    expectClose(same.standardError, plain.standardError, 1e-14);
    expectClose(same.df, plain.df, 1e-14);
  }
});

test("one value a group gives no variance, said as NaN", () => {
  const result = oneWayAnalysis([[1], [2]]);
  expect(result.residualVariance).toBeNaN();
  expect(result.p).toBeNaN();
});
