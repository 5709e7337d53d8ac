/** Filled by its area. */
export const chartProblems = {} as const;
