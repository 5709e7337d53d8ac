import { checkCommand } from "./check-command";
import { UsageError, type Command, type Terminal } from "./command";
import { describeDataCommand } from "./describe-data-command";
import { exitCodes, type ExitCode } from "./exit-codes";
import { figureCommand } from "./figure-command";
import { flightCommand } from "./flight-command";
import { newCommand } from "./new-command";
import { runCommand } from "./run-command";
import { forTerminal } from "./say-problems";
import { suspectsCommand } from "./suspects-command";
import { version } from "./version";

const commands: Readonly<Record<string, Command>> = { new: newCommand, run: runCommand, check: checkCommand, suspects: suspectsCommand, flight: flightCommand, figure: figureCommand, "describe-data": describeDataCommand };

/** Runs the command line `given` (without the program's name) and returns its exit code. */
export async function runCommandLine(given: readonly string[], terminal: Terminal): Promise<ExitCode> {
  const [name, ...rest] = given;
  if (name === undefined || name === "--help" || name === "-h" || name === "help") {
    const asked = name !== undefined;
    await (asked ? terminal.out : terminal.say)(help());
    return asked ? exitCodes.clean : exitCodes.usage;
  }
  if (name === "--version" || name === "version") {
    await terminal.out(`${version}\n`);
    return exitCodes.clean;
  }
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (command === undefined) {
    const accepted = Object.keys(commands).join(", ").replace(/, (?=[\w-]+$)/u, " and ");
    await terminal.say(forTerminal(`fairstrike: there is no command ${JSON.stringify(name)}; there are ${accepted}\n${asking}\n`));
    return exitCodes.usage;
  }
  // After -- even these are names of files.
  const options = rest.slice(0, rest.includes("--") ? rest.indexOf("--") : undefined);
  if (options.includes("--help") || options.includes("-h")) {
    await terminal.out(`${command.help}\n\nusage: fairstrike ${command.usage}\n`);
    return exitCodes.clean;
  }
  try {
    return await command.run(rest, terminal);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    await terminal.say(forTerminal(`fairstrike ${name}: ${error.message}\nusage: fairstrike ${command.usage}\n`));
    return exitCodes.usage;
  }
}

const asking = "fairstrike --help says how they are called";

function help(): string {
  const lines = Object.values(commands).map((command) => `  fairstrike ${command.usage}\n      ${command.help}`);
  return [
    "fairstrike: shot-data notebooks on the command line",
    "",
    ...lines,
    "  fairstrike --version",
    "",
    "exit codes: 0 clean, 1 problems found, 2 wrong usage, 3 internal error, 130 or 143 interrupted",
    "",
  ].join("\n");
}
