/** Thrown by a checkpoint when the person asked for the run to end; caught where the run was started. */
export class Cancelled extends Error {
  override readonly name = "Cancelled";
  constructor() {
    super("the run was cancelled");
  }
}

/** Thrown by a checkpoint when a cell is over its time; caught where the cell was started. */
export class OutOfTime extends Error {
  override readonly name = "OutOfTime";
  constructor() {
    super("the cell is over its time");
  }
}

/** Thrown where something must be compiled and the place forbids it; caught where the verb was started. */
export class NoCodeGeneration extends Error {
  override readonly name = "NoCodeGeneration";
}
