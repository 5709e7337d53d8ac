/** A number with `digits` decimals; a negative one with a true minus (U+2212), and never a negative zero. */
export function decimal(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `\u2212${text}` : text;
}

/** A number with the side it is on, `12.3 R` or `12.3 L`; nothing behind a zero. */
export function sided(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return Number(text) === 0 ? text : `${text} ${value > 0 ? "R" : "L"}`;
}

/** One line of delimited text; a field is in quotes where it has to be. */
export function line(fields: readonly string[], delimiter: string): string {
  return fields.map((field) => (/["\r\n]/.test(field) || field.includes(delimiter) ? `"${field.replaceAll('"', '""')}"` : field)).join(delimiter);
}
