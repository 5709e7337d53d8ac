/** Acorn's settings, the same for reading tokens and for parsing. Module code is strict and has no HTML comments. */
export const syntaxOptions = { ecmaVersion: 2024, sourceType: "module", allowHashBang: false } as const;
