import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { autumnRangeMisreads, hitAutumnRange } from "../../scripts/samples/autumn-range";
import { heads, strikeBall } from "../../scripts/samples/heads";
import { randomOf, splitMix64 } from "../../scripts/samples/random";
import { sampleFiles, sampleSeeds } from "../../scripts/samples/sample-files";
import type { TrueShot } from "../../scripts/samples/session-plan";
import { hitSpringBay, springBayMisreads } from "../../scripts/samples/spring-bay";
import { hitSummerNet, summerNetMisreads, summerNetStretch } from "../../scripts/samples/summer-net";
import { testerOne } from "../../scripts/samples/tester";
import { hitWinterBay } from "../../scripts/samples/winter-bay";

const folder = path.resolve(import.meta.dirname, "..", "..", "sample-notebooks");

const mph = 0.44704;
const degree = Math.PI / 180;

test("the committed exports are what the generator writes, byte for byte", () => {
  for (const [name, text] of sampleFiles()) expect(readFileSync(path.join(folder, name), "utf8"), name).toBe(text);
});

test("SplitMix64 gives the published numbers of the seed 1234567", () => {
  // Reference values of Vigna's public-domain implementation, as commonly published.
  const next = splitMix64(1234567n);
  expect([next(), next(), next(), next(), next()]).toEqual([
    6457827717110365317n,
    3203168211198807973n,
    9817491932198370423n,
    4593380528125082431n,
    16408922859458223821n,
  ]);
});

test("normal numbers have mean 0 and the asked deviation; a fork does not disturb its source", () => {
  const random = randomOf(3n);
  const values = Array.from({ length: 20_000 }, () => random.normal(2));
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const deviation = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
  // Three standard errors of a mean and of a deviation of 20 000.
  expect(Math.abs(mean)).toBeLessThan(0.043);
  expect(Math.abs(deviation - 2)).toBeLessThan(0.03);
  const one = randomOf(5n);
  const other = randomOf(5n);
  one.fork().uniform();
  other.fork();
  expect(one.uniform()).toBe(other.uniform());
});

test("another seed is another session", () => {
  expect(hitSpringBay(1n).readings).not.toEqual(hitSpringBay(2n).readings);
  expect(hitSpringBay(1n).readings).toEqual(hitSpringBay(1n).readings);
});

/** Mean over the stock shots of a head. */
function meanOf(shots: readonly TrueShot[], head: string, value: (shot: TrueShot) => number): number {
  const values = shots.filter((shot) => shot.head === head).map(value);
  return values.reduce((sum, each) => sum + each, 0) / values.length;
}

test("the scenario: Wren is hit nearest the centre, Plover towards the toe, and the swing tires", () => {
  const stock = hitSpringBay(sampleSeeds.springBay).shots.slice(6);
  const toe = (head: string): number => meanOf(stock, head, (shot) => shot.strike.x * 1000);
  expect(Math.abs(toe("Wren"))).toBeLessThan(1);
  expect(toe("Heron")).toBeGreaterThan(2);
  expect(toe("Plover")).toBeGreaterThan(toe("Heron"));
  const speed = (shots: readonly TrueShot[]): number => shots.reduce((sum, shot) => sum + shot.delivery.clubSpeed, 0) / shots.length / mph;
  const fall = speed(stock.slice(0, 24)) - speed(stock.slice(-24));
  expect(fall).toBeGreaterThan(0.5);
  expect(fall).toBeLessThan(2);
});

test("the scenario: from the best place Plover is fastest and Wren slowest, and Wren loses most off it", () => {
  const launch = (head: keyof typeof heads, toe: number): number => {
    const { centre, loft } = heads[head];
    const delivery = { clubSpeed: 88 * mph, angleOfAttack: -4 * degree, clubPath: 0, faceAngle: 0, dynamicLoft: loft - 8.5 * degree };
    return strikeBall(heads[head], delivery, { x: centre.toe + toe, y: centre.high }).speed / mph;
  };
  expect(launch("Plover", 0)).toBeGreaterThan(launch("Heron", 0));
  expect(launch("Heron", 0)).toBeGreaterThan(launch("Wren", 0));
  const loss = (head: keyof typeof heads): number => launch(head, 0) - launch(head, 0.012);
  expect(loss("Wren")).toBeGreaterThan(loss("Heron"));
  expect(loss("Heron")).toBeGreaterThan(loss("Plover"));
  expect(loss("Wren")).toBeLessThan(8);
});

test("misreads stand out: a speed ratio no iron has, a spin twice or half the others', a face that contradicts the start", () => {
  const spring = hitSpringBay(sampleSeeds.springBay).readings;
  const ratio = ({ launch, clubSpeed }: (typeof spring)[number]): number => launch.speed / (clubSpeed ?? Number.NaN);
  const [slow] = Object.keys(springBayMisreads.clubSpeed!).map(Number);
  expect(ratio(spring[slow! - 1]!)).toBeGreaterThan(1.5);
  expect(spring.filter((reading) => ratio(reading) > 1.45)).toHaveLength(1);
  const [doubled] = Object.keys(springBayMisreads.spinRate!).map(Number);
  const spins = spring.map((reading) => reading.launch.spinRate).sort((a, b) => a - b);
  expect(spring[doubled! - 1]!.launch.spinRate).toBe(spins.at(-1));
  expect(spins.at(-1)! / spins.at(-2)!).toBeGreaterThan(1.5);
  const [turned] = Object.keys(springBayMisreads.face!).map(Number);
  const face = spring[turned! - 1]!;
  expect(Math.abs(face.face! - face.launch.startDirection) / degree).toBeGreaterThan(6);

  const autumn = hitAutumnRange(sampleSeeds.autumnRange).readings;
  const [slowAutumn] = Object.keys(autumnRangeMisreads.clubSpeed!).map(Number);
  expect(ratio(autumn[slowAutumn! - 1]!)).toBeGreaterThan(1.5);
  const [halved] = Object.keys(autumnRangeMisreads.spinRate!).map(Number);
  const autumnSpins = autumn.map((reading) => reading.launch.spinRate).sort((a, b) => a - b);
  expect(autumn[halved! - 1]!.launch.spinRate).toBe(autumnSpins[0]);
  expect(autumnSpins[0]! / autumnSpins[1]!).toBeLessThan(0.7);
});

test("the session into a net: strikes near the tester's habits, thin ones among them, and a face 3.5° too far closed for thirty shots", () => {
  const { shots, readings } = hitSummerNet(sampleSeeds.summerNet);
  const stock = shots.slice(6);
  for (const head of ["Wren", "Heron", "Plover"] as const) {
    expect(Math.abs(meanOf(stock, head, (shot) => shot.strike.x * 1000) - testerOne.strikes[head].x[0])).toBeLessThan(1);
  }
  expect(shots.filter((shot) => shot.strike.y < -0.009).length).toBeGreaterThan(3);
  const error = readings.map(({ face }, i) => (face === null ? Number.NaN : (face - shots[i]!.delivery.faceAngle) / degree));
  const average = (values: readonly number[]): number => values.reduce((sum, each) => sum + each, 0) / values.length;
  const read = (from: number, to: number): number => average(error.slice(from - 1, to).filter((each) => !Number.isNaN(each)));
  // Three standard errors of a mean of 29 readings, 0.9° each.
  expect(Math.abs(read(summerNetStretch.from, summerNetStretch.to) + 3.5)).toBeLessThan(0.5);
  expect(Math.abs(read(1, summerNetStretch.from - 1))).toBeLessThan(0.5);
  expect(Math.abs(read(summerNetStretch.to + 1, 96))).toBeLessThan(0.6);
  for (const [shot, share] of Object.entries(summerNetMisreads.clubSpeed)) {
    const reading = readings[Number(shot) - 1]!;
    expect(reading.clubSpeed! / shots[Number(shot) - 1]!.delivery.clubSpeed / share).toBeCloseTo(1, 1);
  }
});

test("the left-hander's readings have left and right exchanged, toe and heel as they were, and strikes all over the face", () => {
  const { shots, readings } = hitWinterBay(sampleSeeds.winterBay);
  const slope = (of: (i: number) => number, against: (i: number) => number): number =>
    shots.reduce((sum, _, i) => sum + of(i) * against(i), 0) / shots.reduce((sum, _, i) => sum + against(i) ** 2, 0);
  expect(slope((i) => readings[i]!.launch.startDirection, (i) => shots[i]!.launch.startDirection)).toBeLessThan(-0.8);
  expect(slope((i) => readings[i]!.flight.offline, (i) => shots[i]!.flight.offline)).toBeLessThan(-0.8);
  expect(slope((i) => readings[i]!.strike!.x, (i) => shots[i]!.strike.x)).toBeGreaterThan(0.8);
  expect(shots.filter(({ strike }) => Math.abs(strike.x) > 0.012).length).toBeGreaterThan(10);
});
