/** Filled by its area. */
export const yamlProblems = {} as const;
