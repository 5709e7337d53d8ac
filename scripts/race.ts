/** Medians of a few rounds, in milliseconds; the contestants take turns, so that a busy moment hits all alike. */
export function race(rounds: number, contestants: Readonly<Record<string, () => unknown>>): Record<string, number> {
  const times: Record<string, number[]> = {};
  for (let round = 0; round <= rounds; round++) {
    for (const [name, run] of Object.entries(contestants)) {
      const start = performance.now();
      run();
      // The first round warms up and is left out.
      if (round > 0) (times[name] ??= []).push(performance.now() - start);
    }
  }
  return Object.fromEntries(Object.entries(times).map(([name, each]) => [name, each.sort((a, b) => a - b)[each.length >> 1]!]));
}

/** Prints times in milliseconds, and each as a multiple of the one called `base`. */
export function report(title: string, medians: Readonly<Record<string, number>>, base: string): void {
  console.log(`\n${title}`);
  for (const [name, time] of Object.entries(medians))
    console.log(`  ${name.padEnd(34)}${time.toFixed(1).padStart(10)} ms${(time / medians[base]!).toFixed(2).padStart(9)} × ${base}`);
}
