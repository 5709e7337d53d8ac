/** Filled by its area. */
export const notebookProblems = {} as const;
