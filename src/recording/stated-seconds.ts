/** The length ffmpeg announces, in seconds; 0 while it has not, or does not know. */
export function statedSeconds(said: string): number {
  const [, hours = 0, minutes = 0, seconds = 0] = /Duration: (\d+):(\d\d):(\d\d\.\d+)/.exec(said) ?? [];
  return Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
}
