/** Filled by its area. */
export const sessionProblems = {} as const;
