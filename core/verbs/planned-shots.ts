/** More shots than this are more than one session can give. */
export const mostInOneSession = 300;

/** The number of shots as it is told: hundreds are all that a plan for several sessions is good for. */
export function roughly(shots: number): number {
  return shots > mostInOneSession ? Math.ceil(shots / 100) * 100 : shots;
}
