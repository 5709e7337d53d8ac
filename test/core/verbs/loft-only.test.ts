import { expect, test } from "vitest";
import { chartSvg } from "../../../core/chart/draw-chart";
import { lightTheme } from "../../../core/chart/themes";
import { centredImpact } from "../../../core/flight/centred-impact";
import { simulateFlight } from "../../../core/flight/simulate";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import type { OptionValues } from "../../../core/query/vocabulary";
import type { HeadBuild, SessionFacts } from "../../../core/session/session-facts";
import type { Column, Table, TextColumn } from "../../../core/table/table";
import { findColumn, makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { loftOnly } from "../../../core/verbs/loft-only";
import { degree, mph, rpm, yard } from "../flight/golf-units";
import { normals } from "../stats/check-values";
import type { Outcome } from "./trade-verbs";
import { facts, inferredProblems, refusal, runVerb } from "./trade-verbs";

/** A head of an invented session. */
interface Head {
  readonly name: string;
  /** Stated, degrees; not stated when left out. */
  readonly loft?: number;
  /** Degrees that it really has, where these are not the stated ones. */
  readonly real?: number;
  readonly restitution?: number;
  readonly kind?: HeadBuild["kind"];
}

interface Invented {
  readonly heads: readonly Head[];
  readonly passes?: number;
  readonly seed?: number;
  readonly session?: Partial<SessionFacts>;
  readonly without?: readonly string[];
  readonly inOneGo?: boolean;
}

interface Row {
  readonly session: string;
  readonly shot: number;
  readonly head: string;
  readonly stint: number;
  readonly numbers: Readonly<Record<string, number>>;
}

/** Shots hit by the impact model with the dynamic loft ten degrees below the real one. */
function hit({ heads, passes = 8, seed = 5, session = {}, inOneGo = false }: Invented): readonly Row[] {
  const normal = normals(seed);
  return Array.from({ length: heads.length * passes * 4 }, (_, i): Row => {
    const stint = Math.floor(i / 4);
    const head = heads[inOneGo ? Math.floor(stint / passes) : stint % heads.length]!;
    const [speed, attack] = [95 + 0.8 * normal(), -4 + 0.7 * normal()];
    const loft = (head.real ?? head.loft ?? 34) - 10 + 0.7 * normal();
    const struck = centredImpact({ clubSpeed: speed * mph, spinLoft: (loft - attack) * degree, headMass: 0.268, restitution: head.restitution ?? 0.775, tangentialRestitution: 0.12 });
    const launchAngle = loft * degree - struck.angleFromNormal;
    const flight = simulateFlight({ speed: struck.ballSpeed, launchAngle, startDirection: 0, spinRate: struck.spinRate, spinAxis: 0 });
    const numbers = {
      club_speed: speed,
      angle_of_attack: attack,
      dynamic_loft: loft,
      ball_speed: struck.ballSpeed / mph,
      launch_angle: launchAngle / degree,
      spin_rate: struck.spinRate / rpm,
      carry: flight.carry / yard,
    };
    return { session: session.name ?? "s1", shot: i + 1, head: head.name, stint: stint + 1, numbers };
  });
}

const unitOf = { club_speed: "mph", angle_of_attack: "deg", dynamic_loft: "deg", ball_speed: "mph", launch_angle: "deg", spin_rate: "rpm", carry: "yd" } as const;

function sessionOf({ heads, session = {} }: Invented): SessionFacts {
  const builds = heads.map(({ name, loft, kind = "iron" }): HeadBuild => ({
    name,
    kind,
    ...(loft === undefined ? {} : { loft: { value: loft, unit: "deg" } }),
    strikeReference: { x: 0, y: -9 },
  }));
  return facts({ heads: builds, air: { temperature: { value: 15, unit: "degC" }, altitude: { value: 0, unit: "m" } }, ...session });
}

function tableOf(...invented: readonly Invented[]): Table {
  const rows = invented.flatMap(hit);
  const without = invented.flatMap((each) => each.without ?? []);
  const columns: Column[] = [
    textColumn("session", rows.map((row) => row.session), "stated"),
    numberColumn("shot", rows.map((row) => row.shot), null, "stated"),
    textColumn("head", rows.map((row) => row.head), "stated"),
    numberColumn("stint", rows.map((row) => row.stint), null, "derived"),
    textColumn("intent", rows.map(() => "stock"), "stated"),
    textColumn("player", rows.map(() => "P1"), "stated"),
    ...(Object.keys(unitOf) as (keyof typeof unitOf)[]).map((name) => numberColumn(name, rows.map((row) => row.numbers[name]!), unitOf[name], "measured")),
  ];
  return makeTable(columns.filter((column) => !without.includes(column.name)), rows.length, { sessions: invented.map(sessionOf) });
}

const ask = (invented: Invented, options: OptionValues = {}): Outcome => runVerb(loftOnly, tableOf(invented), options);

/** The row of one column, of the first pair. */
function rowOf({ rows }: Outcome, of: string): Readonly<Record<string, number | string | boolean | null>> {
  return rows.find((row) => row["of"] === of)!;
}

function checkSaid(outcome: Outcome, wanted: RegExp): void {
  const { sentences } = outcome.report;
  expect(sentences.some((sentence) => wanted.test(sentence)), `${wanted.source} in\n${sentences.join("\n")}`).toBe(true);
}

const twoDegrees: readonly Head[] = [{ name: "Wren", loft: 34 }, { name: "Plover", loft: 32 }];

test("two heads that differ by 2° of loft only leave nothing over", () => {
  const outcome = ask({ heads: twoDegrees, passes: 12 });
  expect(outcome.rows.map((row) => [row["head"], row["against"], row["of"], row["unit"], row["loft_difference"]])).toEqual(
    [["carry", "yd"], ["ball_speed", "mph"], ["launch_angle", "deg"], ["spin_rate", "rpm"]].map(([of, unit]) => ["Plover", "Wren", of, unit, -2]),
  );
  for (const row of outcome.rows) {
    expect(row["verdict"], String(row["of"])).toBe("loft may explain it");
    expect(row["left_over_from"]).toBeLessThan(0);
    expect(row["left_over_to"]).toBeGreaterThan(0);
    expect(row["left_over"]).toBeCloseTo((row["measured"] as number) - (row["loft_only"] as number), 9);
    expect(row["left_over_from"]).toBeCloseTo((row["from"] as number) - (row["loft_only_high"] as number), 9);
    expect(row["left_over_to"]).toBeCloseTo((row["to"] as number) - (row["loft_only_low"] as number), 9);
  }
  checkSaid(outcome, /^Plover is stated 2° stronger than Wren \(32° against 34°\): loft may explain the difference in carry, ball speed, launch angle and spin rate\.$/);
});

test("without scatter but that of the strikes, the model finds the change that its own physics made", () => {
  // Other parameters made the shots than the usual ones; the change from loft to loft is the same within 10 %.
  const outcome = ask({ heads: twoDegrees, passes: 40 });
  const alone = (of: string): number => rowOf(outcome, of)["loft_only"] as number;
  const made = (loft: number) => {
    const struck = centredImpact({ clubSpeed: 95 * mph, spinLoft: (loft - 6) * degree, headMass: 0.268, restitution: 0.775, tangentialRestitution: 0.12 });
    return { ball_speed: struck.ballSpeed / mph, launch_angle: loft - struck.angleFromNormal / degree, spin_rate: struck.spinRate / rpm };
  };
  for (const of of ["ball_speed", "launch_angle", "spin_rate"] as const) expect(alone(of) / (made(32)[of] - made(34)[of])).toBeCloseTo(1, 1);
});

test("a head that is faster too leaves that over", () => {
  const outcome = ask({ heads: [{ name: "Wren", loft: 34 }, { name: "Plover", loft: 32, restitution: 0.825 }], passes: 12 });
  const ball = rowOf(outcome, "ball_speed");
  // 0.01 of restitution is 0.73 mph at 97 mph (Penner 2001): 0.05 at 95 mph is 3.5 mph.
  expect(ball["left_over"]).toBeGreaterThan(2.5);
  expect(ball["left_over"]).toBeLessThan(4.5);
  expect(ball["verdict"]).toBe("loft does not explain it");
  expect(rowOf(outcome, "launch_angle")["verdict"]).toBe("loft may explain it");
  expect(rowOf(outcome, "spin_rate")["verdict"]).toBe("loft may explain it");
  checkSaid(outcome, /^Plover is stated .*: loft does not explain the difference in (carry and )?ball speed; loft may explain/);
});

test("a stated loft that is not the real one is in what is left over", () => {
  const outcome = ask({ heads: [{ name: "Wren", loft: 34 }, { name: "Plover", loft: 34.5, real: 31 }], passes: 12 });
  expect(rowOf(outcome, "launch_angle")["verdict"]).toBe("loft does not explain it");
  checkSaid(outcome, /^Plover is stated 0\.5° weaker than Wren/);
  checkSaid(outcome, /dynamic loft −3\.\d° \(stated loft 0\.5°\)/);
  checkSaid(outcome, /Lofts are as stated, not measured/);
});

test("equal lofts explain nothing, which is said once and is no row", () => {
  const outcome = ask({ heads: [{ name: "Wren", loft: 34 }, { name: "Heron", loft: 34 }, { name: "Plover", loft: 32 }] });
  expect(new Set(outcome.rows.map((row) => `${row["head"]}-${row["against"]}`))).toEqual(new Set(["Plover-Wren", "Plover-Heron"]));
  checkSaid(outcome, /^Wren and Heron are stated at the same loft, 34°: loft explains nothing of what differs between them\.$/);
  const alike = ask({ heads: [{ name: "Wren", loft: 34 }, { name: "Heron", loft: 34 }] });
  expect(alike.rows).toEqual([]);
  expect(alike.report.picture).toBeNull();
  expect(alike.report.sentences[0]).toMatch(/loft explains nothing/);
});

test("lofts that are not stated: what to write, and where", () => {
  expect(refusal(loftOnly, tableOf({ heads: [{ name: "Wren" }, { name: "Plover", loft: 32 }] }), {})).toEqual(["trade.no-lofts"]);
  const outcome = ask({ heads: [...twoDegrees, { name: "Heron" }] });
  expect(outcome.rows).toHaveLength(4);
  checkSaid(outcome, /^Nothing is told of Heron: the loft of Heron is not stated\. Write it in the session file: heads: \{ Heron: \{ loft: 34 deg \} \}/);
});

test("one head, unknown heads, groups and missing columns are refused", () => {
  const table = tableOf({ heads: twoDegrees });
  expect(refusal(loftOnly, tableOf({ heads: [{ name: "Wren", loft: 34 }] }), {})).toEqual(["trade.one-group"]);
  expect(refusal(loftOnly, table, { against: "Heron" })).toEqual(["trade.no-such-group"]);
  const without = (...names: readonly string[]): Table => tableOf({ heads: twoDegrees, without: names });
  expect(inferredProblems(loftOnly, without("launch_angle", "dynamic_loft"), {})).toEqual(["trade.no-spin-loft"]);
  expect(refusal(loftOnly, without("launch_angle", "dynamic_loft"), {})).toEqual(["trade.no-spin-loft"]);
  expect(inferredProblems(loftOnly, without("launch_angle", "ball_speed", "spin_rate"), {})).toEqual(["trade.nothing-of-loft"]);
  expect(inferredProblems(loftOnly, { ...table, groupedBy: ["head"] }, {})).toEqual(["trade.grouped"]);
});

test("it works with what is there, and says how the spin loft was found", () => {
  const of = (outcome: Outcome): unknown[] => outcome.rows.map((row) => row["of"]);
  const noLoft = ask({ heads: twoDegrees, without: ["dynamic_loft"] });
  expect(of(noLoft)).toHaveLength(4);
  checkSaid(noLoft, /spin loft 2[67]\.\d° \(estimated from launch angle and angle of attack; taken as right within 3°\)/);
  checkSaid(ask({ heads: twoDegrees, without: ["dynamic_loft", "angle_of_attack"] }), /spin loft 2[67]\.\d° \(estimated from the launch angle and a usual angle of attack; taken as right within 5°\)/);
  const noSpin = ask({ heads: twoDegrees, without: ["spin_rate", "club_speed"] });
  expect(of(noSpin)).toEqual(["ball_speed", "launch_angle"]);
  checkSaid(noSpin, /^Nothing is told of carry: that needs spin rate too\.$/);
  expect(of(ask({ heads: twoDegrees, without: ["launch_angle"] }))).toEqual(["ball_speed", "spin_rate"]);
});

test("a head no shot of which was read at launch has no spin loft, which is said", () => {
  const table = tableOf({ heads: twoDegrees, without: ["dynamic_loft", "angle_of_attack"] });
  const head = findColumn(table, "head") as TextColumn;
  const columns = table.columns.map((column) => (column.name === "launch_angle" && column.kind === "number" ? { ...column, values: column.values.map((value, i) => (head.labels[head.codes[i]!] === "Wren" ? Number.NaN : value)) } : column));
  const outcome = runVerb(loftOnly, { ...table, columns }, {});
  expect(outcome.rows).toEqual([]);
  checkSaid(outcome, /^Nothing is told of Plover and Wren: one of them has no shot with a launch angle/);
});

test("against a named head the others are compared with it, the signs with it", () => {
  const outcome = ask({ heads: [...twoDegrees, { name: "Heron", loft: 33 }] }, { against: "Plover" });
  expect(new Set(outcome.rows.map((row) => row["against"]))).toEqual(new Set(["Plover"]));
  const heron = outcome.rows.find((row) => row["head"] === "Heron" && row["of"] === "ball_speed")!;
  expect(heron["loft_difference"]).toBe(1);
  expect(heron["loft_only"]).toBeLessThan(0);
});

test("without the hitting order there is the plain difference and no verdict, which is warned of", () => {
  const outcome = ask({ heads: twoDegrees, session: { orderKnown: false } });
  expect(outcome.problems.map((each) => each.code)).toEqual(["trade.order-unknown"]);
  expect(new Set(outcome.rows.map((row) => row["verdict"]))).toEqual(new Set(["no verdict"]));
  expect(outcome.rows.every((row) => row["measured"] !== null && row["stints"] === null)).toBe(true);
  checkSaid(outcome, /The hitting order is not known, and the interval is likely too narrow\.$/);
});

test("heads hit in one go have no interval and no verdict; few stints leave it undecided", () => {
  const oneGo = ask({ heads: twoDegrees, inOneGo: true });
  expect(new Set(oneGo.rows.map((row) => row["verdict"]))).toEqual(new Set(["no verdict"]));
  expect(oneGo.rows.every((row) => row["from"] === null && row["left_over_from"] === null)).toBe(true);
  checkSaid(oneGo, /Hit in one go, so that fatigue and warm-up cannot be told from the heads\.$/);
  const few = ask({ heads: twoDegrees, passes: 3 });
  expect(new Set(few.rows.map((row) => row["verdict"]))).toEqual(new Set(["undecided"]));
  checkSaid(few, /Too few stints for a verdict\.$/);
});

test("several sessions: one loft each, or it is refused; the air is that of both", () => {
  const second: Invented = { heads: twoDegrees, seed: 9, session: { name: "s2" } };
  const both = runVerb(loftOnly, tableOf({ heads: twoDegrees }, second), {});
  expect(both.rows).toHaveLength(4);
  expect(both.report.sentences.at(-1)).toBe("One tester, 2 sessions.");
  const other = tableOf({ heads: twoDegrees }, { ...second, heads: [{ name: "Wren", loft: 31 }, { name: "Plover", loft: 32 }] });
  expect(refusal(loftOnly, other, {})).toEqual(["trade.several-lofts"]);
  const undecided = runVerb(loftOnly, tableOf({ heads: [...twoDegrees, { name: "Heron", loft: 33 }] }, { ...second, heads: [{ name: "Wren", loft: 31 }, { name: "Plover", loft: 32 }] }), {});
  checkSaid(undecided, /^Nothing is told of Wren, whose loft is not the same in all sessions \(31° and 34°\): filter to one\.$/);
});

test("sessions that do not state their air are named, and what the model leaves out is said", () => {
  checkSaid(ask({ heads: twoDegrees, session: { air: {} } }), /s1 does not state the whole air; standard air at sea level stands in\.$/);
  const outcome = ask({ heads: twoDegrees });
  checkSaid(outcome, /^The model: rigid heads .* it is no confidence interval\.$/);
  checkSaid(outcome, /^Carry is for straight flights in still air, of a usual ball: its own aerodynamics are not known\.$/);
  expect(outcome.report.method).toMatch(/^Impact of rigid bodies \(Penner 2001\)/);
  expect(outcome.report.answer).toBe(1);
});

test("the picture has a panel a column and is drawn at 300 pixels", async () => {
  const { picture } = ask({ heads: twoDegrees }).report;
  expect((picture!.spec["vconcat"] as readonly unknown[]).length).toBe(4);
  const svg = await chartSvg(presentChart(picture!, defaultLimits).spec, lightTheme, 300);
  for (const text of ["Plover − Wren", "difference in carry (yd)", "difference in spin rate (rpm)"]) expect(svg).toContain(text);
  expect(Number(/width="([\d.]+)"/.exec(svg)![1])).toBeLessThanOrEqual(301);
});
