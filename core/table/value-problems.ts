/** Filled by its area. */
export const valueProblems = {} as const;
