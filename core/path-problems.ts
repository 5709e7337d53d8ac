/** Filled by its area. */
export const pathProblems = {} as const;
