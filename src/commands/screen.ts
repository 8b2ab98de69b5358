/** Where a command's words go. Tests give one that keeps them. */
export interface Screen {
  /** Results, on standard output. */
  print(text: string): void;
  /** Everything else, on standard error. */
  tell(text: string): void;
  /** The terminal that standard error is, where it is one; progress is drawn on nothing else. */
  readonly terminal: NodeJS.WriteStream | null;
}

/** What every command is given beside its arguments. */
export interface Surroundings {
  readonly screen: Screen;
  /** Is aborted when the person asks to stop. */
  readonly signal: AbortSignal;
}

/** How a command ends that did a part of its work: what is told, and the exit code. */
export class Ended extends Error {
  override readonly name = 'Ended';
  readonly exitCode: number;

  constructor(message: string, exitCode: number) {
    super(message);
    this.exitCode = exitCode;
  }
}

/** The real streams of the process. */
export function processScreen(): Screen {
  return {
    print: (text) => void process.stdout.write(`${text}\n`),
    tell: (text) => void process.stderr.write(`${text}\n`),
    terminal: process.stderr.isTTY ? process.stderr : null,
  };
}
