/** Filled by its area. */
export const runProblems = {} as const;
