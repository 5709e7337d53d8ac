import type { DirectionWitness } from "./direction-witnesses";

/** Which reading of a shot's directions contradicts the others; `unclear` where more than one could. */
export type Misread = "face" | "start" | "axis" | "path" | "unclear" | "none";

const deg = Math.PI / 180;
const usualError = 1.6 * deg; // of the face about both witnesses, up to which the limits below hold as they are

/** Limits of the face's distance from what start direction and spin axis imply together: of doubt, and of strong doubt. */
export function faceLimits(shot: DirectionWitness): { readonly suspect: number; readonly strong: number } {
  const wider = Math.max(1, shot.togetherError / usualError);
  return { suspect: 4 * deg * wider, strong: 5 * deg * wider };
}

/** How far apart the two witnesses may be for the face alone to be blamed. */
export function agreeWithin(shot: DirectionWitness): number {
  return 4 * deg * Math.max(1, shot.togetherError / usualError);
}

const apartAt = 3.5; // standard deviations from which the witnesses contradict one another
const explains = 2; // standard deviations left, at most, when the misread one is replaced
const leavesOpen = 3; // standard deviations left, at least, when any other one is

/**
 * Which single reading, were it replaced, would make face, path, start direction and spin axis agree.
 *
 * Where the two witnesses agree with one another and not with the face, it is the face. Where they contradict one another it
 * is the one without which the rest agrees, if there is just one such.
 */
export function misreadDirection(shot: DirectionWitness): Misread {
  const off = Math.abs(shot.face - shot.together);
  const apart = Math.abs(shot.fromStart - shot.fromAxis);
  const { suspect } = faceLimits(shot);
  if (off > suspect && apart < agreeWithin(shot)) return "face";
  if (apart > apartAt * shot.apartError) {
    const left = [
      { misread: "start", rest: Math.abs(shot.face - shot.fromAxis) / shot.fromAxisError },
      { misread: "axis", rest: Math.abs(shot.face - shot.fromStart) / shot.fromStartError },
      { misread: "path", rest: shot.pathMisfit },
    ] as const;
    const [best, next] = [...left].sort((a, b) => a.rest - b.rest);
    return best!.rest < explains && next!.rest > leavesOpen ? best!.misread : "unclear";
  }
  return off > suspect ? "unclear" : "none";
}
