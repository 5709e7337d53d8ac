import type { DirectionWitness } from "./direction-witnesses";

/** Which reading of a shot's directions contradicts the others. */
export interface DirectionVerdict {
  readonly misread: "face" | "start" | "axis" | "path";
  /** False where another reading could be to blame. */
  readonly isClear: boolean;
  /** The one that comes next, where it is not the face. */
  readonly instead: "start" | "axis" | "path" | null;
}

const deg = Math.PI / 180;
const usualError = 1.6 * deg; // of the face about both witnesses, up to which the limits below hold as they are

/** Limits of the face's distance from what start direction and spin axis imply together: of doubt, and of strong doubt. */
export function faceLimits(shot: DirectionWitness): { readonly suspect: number; readonly strong: number } {
  const wider = Math.max(1, shot.togetherError / usualError);
  return { suspect: 4 * deg * wider, strong: 6 * deg * wider };
}

/** How far apart the two witnesses may be for the face alone to be blamed. */
export function agreeWithin(shot: DirectionWitness): number {
  return 4 * deg * Math.max(1, shot.togetherError / usualError);
}

const apartAt = 3.5; // standard deviations from which the witnesses contradict one another
const clearBy = 6; // by which the sum of squares left must be less than any other's: 20 times as likely

/**
 * Which single reading, were it replaced, would make face, path, start direction and spin axis agree.
 *
 * Where the two witnesses agree with one another and not with the face, it is the face. Where they contradict one another it
 * is the one without which the rest agrees best. `null` where nothing is wrong.
 */
export function misreadDirection(shot: DirectionWitness): DirectionVerdict | null {
  const off = Math.abs(shot.face - shot.together);
  const apart = Math.abs(shot.fromStart - shot.fromAxis);
  const { suspect } = faceLimits(shot);
  if (off > suspect && apart < agreeWithin(shot)) return { misread: "face", isClear: true, instead: null };
  if (apart > apartAt * shot.apartError) {
    const left = [
      { misread: "start", rest: Math.abs(shot.face - shot.fromAxis) / shot.fromAxisError },
      { misread: "axis", rest: Math.abs(shot.face - shot.fromStart) / shot.fromStartError },
      { misread: "path", rest: shot.pathMisfit },
    ] as const;
    const [best, next] = [...left].sort((a, b) => a.rest - b.rest);
    return { misread: best!.misread, isClear: next!.rest ** 2 - best!.rest ** 2 > clearBy, instead: next!.misread };
  }
  return off > suspect ? { misread: "face", isClear: false, instead: null } : null;
}

const spoken = { start: "start direction", axis: "spin axis", path: "club path" } as const;

/** What follows the evidence of a verdict that is not clear. */
export function orInstead({ isClear, instead }: DirectionVerdict): string {
  return isClear || instead === null ? "" : ` It may be the ${spoken[instead]} instead.`;
}
