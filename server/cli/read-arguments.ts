import { parseArgs } from "node:util";
import { UsageError } from "./command";

/** What a command was given: its options by name, those not given absent, and everything else in order. */
export interface GivenArguments<Name extends string> {
  readonly options: Readonly<Partial<Record<Name, string>>>;
  readonly others: readonly string[];
}

/**
 * Reads the arguments of a command whose options each take one value, but for `flags`, which take none. After `--` nothing is an option.
 *
 * @throws {UsageError} for an unknown option, one without a value, or one that is there twice.
 */
export function readArguments<Name extends string, Flag extends string = never>(
  given: readonly string[],
  names: readonly Name[],
  flags: readonly Flag[] = [],
): GivenArguments<Name> & { readonly flags: ReadonlySet<Flag> } {
  const options: Partial<Record<Name, string>> = {};
  let parsed;
  try {
    parsed = parseArgs({
      args: [...given],
      allowPositionals: true,
      options: {
        ...Object.fromEntries(names.map((name) => [name, { type: "string", multiple: true } as const])),
        ...Object.fromEntries(flags.map((name) => [name, { type: "boolean" } as const])),
      },
    });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : "the arguments cannot be read");
  }
  for (const name of names) {
    const values = parsed.values[name];
    if (!Array.isArray(values)) continue;
    if (values.length > 1) throw new UsageError(`--${name} can be given once`);
    if (values[0] === "") throw new UsageError(`--${name} is empty`);
    options[name] = String(values[0]);
  }
  return { options, others: parsed.positionals, flags: new Set(flags.filter((name) => parsed.values[name] === true)) };
}
