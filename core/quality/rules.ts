import type { MisreadRule } from "./rule";
import { curveSide, curveSize } from "./rules/curve";
import { faceAngle } from "./rules/face-angle";
import { carryOfLaunch, descentOfLaunch, peakOfLaunch } from "./rules/flight-of-launch";
import { implausibleValue } from "./rules/implausible-value";
import { impossibleLaunch, launchOfHead } from "./rules/launch-angle";
import { oddForItsNeighbours } from "./rules/odd-for-its-neighbours";
import { repeatedRow, zeroRow } from "./rules/repeated-row";
import { runOfBall } from "./rules/run-of-ball";
import { shapeOfFlight } from "./rules/shape-of-flight";
import { speedRatioBound } from "./rules/speed-ratio-bound";
import { speedRatioOfHead } from "./rules/speed-ratio-of-head";
import { clubPath, spinAxis } from "./rules/spin-axis";
import { spinForDelivery } from "./rules/spin-for-delivery";
import { halvedOrDoubledSpin, spinOfHead } from "./rules/spin-of-head";
import { spinParts } from "./rules/spin-parts";
import { faceShareRule, startDirection } from "./rules/start-direction";
import { stuckReading } from "./rules/stuck-reading";

/**
 * The rules by which readings are doubted, one a line; the order decides which evidence comes first where two rules
 * doubt a value equally. No rule sets anything aside, and none doubts a poor strike for being one.
 */
export const misreadRules: readonly MisreadRule[] = [
  implausibleValue,
  repeatedRow,
  zeroRow,
  speedRatioBound,
  speedRatioOfHead,
  faceAngle,
  startDirection,
  faceShareRule,
  spinAxis,
  clubPath,
  halvedOrDoubledSpin,
  spinOfHead,
  spinForDelivery,
  spinParts,
  impossibleLaunch,
  launchOfHead,
  carryOfLaunch,
  peakOfLaunch,
  descentOfLaunch,
  shapeOfFlight,
  curveSide,
  curveSize,
  runOfBall,
  stuckReading,
  oddForItsNeighbours,
];
