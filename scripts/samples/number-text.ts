/** A number with `digits` decimals; a negative one with a true minus (U+2212), and never a negative zero. */
export function decimal(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `\u2212${text}` : text;
}

/** The same with a decimal comma. */
export function commaDecimal(value: number, digits: number): string {
  return decimal(value, digits).replace(".", ",");
}

/** A number with the side it is on, `12.3 R` or `12.3 L`; nothing behind a zero. */
export function sided(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return Number(text) === 0 ? text : `${text} ${value > 0 ? "R" : "L"}`;
}
