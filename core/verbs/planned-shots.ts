import { mostByHitting } from "../stats/more-stints";

/** More shots than this are more than one session can give. */
export const mostInOneSession = 300;

/** The number of shots as it is told: hundreds are all that a plan for several sessions is good for. */
export function roughly(shots: number): number {
  return shots > mostInOneSession ? Math.ceil(shots / 100) * 100 : shots;
}

/** `about 40`, `about 400`; beyond all that can be hit only `more than 10 000`. */
export function aboutShots(shots: number): string {
  return shots > mostByHitting ? "more than 10 000" : `about ${roughly(shots)}`;
}
