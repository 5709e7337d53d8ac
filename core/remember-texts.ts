/** UTF-16 units of texts of cells whose syntax is remembered: some hundreds of cells, and some 10 MB of trees. */
export const syntaxUnits = 256 * 1024;

/**
 * The same pure function of a text with its latest answers remembered: a text that is read by several is read once.
 *
 * @param most UTF-16 units of all texts that are remembered together; a longer text is never remembered.
 */
export function rememberTexts<Rest extends readonly unknown[], T>(make: (text: string, ...rest: Rest) => T, most: number): (text: string, ...rest: Rest) => T {
  // In the order of their last use.
  const known = new Map<string, { readonly rest: Rest; readonly value: T }>();
  let units = 0;

  function forget(text: string): void {
    if (known.delete(text)) units -= text.length;
  }

  return (text, ...rest) => {
    const before = known.get(text);
    const isSame = before !== undefined && before.rest.length === rest.length && before.rest.every((each, i) => each === rest[i]);
    const made = isSame ? before : { rest, value: make(text, ...rest) };
    forget(text);
    if (text.length > most) return made.value;
    known.set(text, made);
    units += text.length;
    for (const oldest of known.keys()) {
      if (units <= most) break;
      forget(oldest);
    }
    return made.value;
  };
}
