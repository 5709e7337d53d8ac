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

/** Returns an empty memo. */
export function createCheckMemo(): CheckMemo {
  let before = new Map<string, Made>();
  let now = new Map<string, Made>();
  return {
    of: <T>(kind: string, text: string, inputs: readonly unknown[], make: () => T): T => {
      const key = `${kind}\n${text}`;
      const known = now.get(key) ?? before.get(key);
      const isSame = known !== undefined && known.inputs.length === inputs.length && known.inputs.every((input, i) => input === inputs[i]);
      const made = isSame ? known : { inputs, value: make() };
      now.set(key, made);
      return made.value as T;
    },
    nextRound: () => {
      before = now;
      now = new Map();
    },
  };
}
