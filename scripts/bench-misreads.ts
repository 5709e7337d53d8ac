import { doubtsOf } from "../core/quality/doubts";
import { seededRandom } from "../core/stats/random";
import type { ShotColumn } from "../core/table/shot-columns";
import { inventReadings } from "./misreads/invent-readings";

/** A kind of misread that is planted: in words, in which column, and what it does to a value in the column's unit. */
interface Planted {
  readonly words: string;
  readonly column: ShotColumn;
  readonly misread: (random: () => number) => (value: number) => number;
}

const side = (random: () => number): number => (random() < 0.5 ? -1 : 1);
const byShare = (least: number, most: number) => (random: () => number) => {
  const share = side(random) * (least + (most - least) * random());
  return (value: number) => value * (1 + share);
};
const by = (size: number) => (random: () => number) => {
  const off = side(random) * size;
  return (value: number) => value + off;
};
const halfOrTwice = (random: () => number) => {
  const factor = random() < 0.5 ? 0.5 : 2;
  return (value: number) => value * factor;
};

const planted: readonly Planted[] = [
  { words: "club speed, off by 8 to 20 %", column: "club_speed", misread: byShare(0.08, 0.2) },
  { words: "club speed, off by 4 to 8 %", column: "club_speed", misread: byShare(0.04, 0.08) },
  { words: "spin, half or twice", column: "spin_rate", misread: halfOrTwice },
  { words: "spin, off by 15 %", column: "spin_rate", misread: byShare(0.15, 0.15) },
  { words: "ball speed, off by 10 %", column: "ball_speed", misread: byShare(0.1, 0.1) },
  { words: "ball speed, off by 5 %", column: "ball_speed", misread: byShare(0.05, 0.05) },
  { words: "face angle of a shot, off by 8°", column: "face_angle", misread: by(8) },
  { words: "face angle of a shot, off by 6°", column: "face_angle", misread: by(6) },
  { words: "face angle of a shot, off by 4°", column: "face_angle", misread: by(4) },
  { words: "start direction, off by 5°", column: "start_direction", misread: by(5) },
  { words: "start direction, off by 3°", column: "start_direction", misread: by(3) },
];

/** Counts which planted misreads `suspects` finds in invented sessions of 150 shots, 4 % of them misread, and which good readings it doubts. */
export function benchMisreads(sessions = 40): void {
  console.log(`\n${sessions} invented sessions of 150 shots with three irons, 4 % of them misread in one column`);
  for (const { words, column, misread } of planted) {
    let [wrong, found, right, doubted] = [0, 0, 0, 0];
    for (let seed = 1; seed <= sessions; seed++) {
      const random = seededRandom(seed * 104729);
      const shots = Array.from({ length: 150 }, (_, i) => i + 1).filter(() => random() < 0.04);
      const { table } = inventReadings({ seed: seed + 500, faults: shots.map((shot) => ({ column, shots: [shot], misread: misread(random) })) });
      const flagged = doubtsOf(table).suspects.filter((each) => each.column === column).map(({ shot }) => shot);
      wrong += shots.length;
      found += flagged.filter((shot) => shots.includes(shot)).length;
      right += 150 - shots.length;
      doubted += flagged.filter((shot) => !shots.includes(shot)).length;
    }
    const share = (count: number, of: number, digits: number): string => `${((100 * count) / of).toFixed(digits)} %`;
    console.log(`  ${words.padEnd(34)}${share(found, wrong, 0).padStart(6)} of ${wrong} found${share(doubted, right, 1).padStart(9)} of ${right} good ones doubted`);
  }
}
