/** Remembers what was made of texts, so that of a notebook only what changed is read, put together and checked again. */
export interface CheckMemo {
  /**
   * What `make` gives for `text`, or what it gave before for the same text and inputs that are the same one by one.
   * `kind` tells apart what is made of one text.
   */
  readonly of: <T>(kind: string, text: string, inputs: readonly unknown[], make: () => T) => T;
  /** Forgets what was not asked for since the last call. */
  readonly nextRound: () => void;
}

interface Made {
  readonly inputs: readonly unknown[];
  readonly value: unknown;
}

/** By kind, then by text: joining the two would be most of the work for what is known. */
type Round = Map<string, Map<string, Made>>;

/** Returns an empty memo. */
export function createCheckMemo(): CheckMemo {
  let before: Round = new Map();
  let now: Round = new Map();
  return {
    of: <T>(kind: string, text: string, inputs: readonly unknown[], make: () => T): T => {
      const current = now.get(kind) ?? new Map<string, Made>();
      now.set(kind, current);
      const known = current.get(text) ?? before.get(kind)?.get(text);
      const isSame = known !== undefined && known.inputs.length === inputs.length && known.inputs.every((input, i) => input === inputs[i]);
      const made = isSame ? known : { inputs, value: make() };
      current.set(text, made);
      return made.value as T;
    },
    nextRound: () => {
      before = now;
      now = new Map();
    },
  };
}
