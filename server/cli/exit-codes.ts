/** What the command line ends with. */
export const exitCodes = {
  clean: 0,
  problems: 1,
  usage: 2,
  internal: 3,
  drifted: 4,
  interrupted: 130,
  terminated: 143,
} as const;

/** One of the exit codes. */
export type ExitCode = (typeof exitCodes)[keyof typeof exitCodes];
