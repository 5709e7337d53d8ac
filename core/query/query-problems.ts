/** Filled by its area. */
export const queryProblems = {} as const;
