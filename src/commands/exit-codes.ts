/** What a run ends with, as the command line's contract says. */
export const DONE = 0;
export const FAILED = 1;
export const WRONG_COMMAND_LINE = 2;
/** What shells expect of a program that was stopped by Ctrl-C. */
export const STOPPED = 130;
