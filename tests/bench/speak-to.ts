import { execFileSync } from 'node:child_process';

/**
 * Has a synthesiser speak a text into a WAV file.
 *
 * @param voice One of flite's by its name, `espeak:` and one of espeak-ng's, or `festival:` and one of festival's.
 */
export function speakTo(path: string, voice: string, text: string): void {
  const [first, own = ''] = voice.split(':');
  if (first === 'espeak') execFileSync('espeak-ng', ['-v', own, '-s', '150', '-w', path, text]);
  else if (first === 'festival')
    execFileSync('text2wave', ['-eval', `(voice_${own})`, '-o', path], { input: text });
  else execFileSync('flite', ['-voice', voice, '-t', text, '-o', path]);
}
