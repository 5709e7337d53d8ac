import { spawnSync } from "node:child_process";
import path from "node:path";
import { standardAirs } from "../core/flight/air";
import { crossSection, standardBall } from "../core/flight/ball";
import type { Launch } from "../core/flight/launch";
import { launchVelocity, spinVector } from "../core/flight/launch";
import { simulateFlight, standardGravity } from "../core/flight/simulate";

/** The iron that is flown: 130 mph, 17°, 6200 rpm. */
const iron: Launch = {
  speed: 130 * 0.44704,
  launchAngle: (17 * Math.PI) / 180,
  startDirection: 0,
  spinRate: (6200 * 2 * Math.PI) / 60,
  spinAxis: 0,
};

const longest = 30_000; // ms, after which as many flights as were made have to do
const chunk = 1000;

/** Flies the reference iron on one core, and prints flights a second beside those of SciPy where it is installed. */
export function benchFlight(wanted = 100_000): void {
  for (let i = 0; i < chunk; i++) simulateFlight(iron); // warms up
  const start = performance.now();
  let flown = 0;
  let carry = 0;
  while (flown < wanted && performance.now() - start < longest) {
    for (let i = 0; i < chunk; i++) ({ carry } = simulateFlight(iron));
    flown += chunk;
  }
  const seconds = (performance.now() - start) / 1000;
  const rate = flown / seconds;
  const short = flown < wanted ? `, as many of ${wanted} as fitted into ${longest / 1000} s` : "";
  console.log(`\n${flown} flights of a mid-iron, steps of 0.01 s, one core${short} (goal: 2000 flights a second)`);
  console.log(`  ${"Fairstrike".padEnd(34)}${rate.toFixed(0).padStart(10)} a second   carry ${(carry / 0.9144).toFixed(1)} yd, ${seconds.toFixed(1)} s in all`);
  besideSciPy(carry, rate);
}

/** The same flights by SciPy's adaptive solvers at the same accuracy or better, as ratios. */
function besideSciPy(carry: number, rate: number): void {
  const { density } = standardAirs["sea level"];
  const given = {
    velocity: launchVelocity(iron),
    spinDirection: spinVector({ ...iron, spinRate: 1 }),
    spin: iron.spinRate,
    radius: standardBall.radius,
    force: (density * crossSection(standardBall)) / (2 * standardBall.mass),
    decay: 2e-5 / standardBall.radius, // of the spin, in air of sea level, for which the constant is given
    gravity: standardGravity,
    carry,
  };
  const script = path.join(import.meta.dirname, "../scripts/flight/same-flights.py");
  const result = spawnSync("python3", [script, JSON.stringify(given)], { encoding: "utf8" });
  if (result.status !== 0) return console.log("  SciPy is not installed: no flights beside ours (Debian: python3-scipy).");
  const [error, ...solvers] = result.stdout.trim().split("\n");
  console.log(`\nThe same flights by SciPy's solve_ivp, one call a flight, landing and apex as events; ours is ${Number(error).toExponential(0)} m off`);
  for (const line of solvers) {
    const [name, tolerance, off, theirs] = line.split("\t");
    console.log(
      `  ${`${name!}, tolerance ${Number(tolerance).toExponential(0)}, ${Number(off).toExponential(0)} m off`.padEnd(44)}` +
        `${Number(theirs).toFixed(0).padStart(6)} a second, ours ${(rate / Number(theirs)).toFixed(0)} × as many`,
    );
  }
}
