import type { PageData } from '../../../sheet/writers/html/page-data.ts';
import type { FindSound } from '../player.ts';

/** Finds the sound of a span among the clips inside the page, or in the recording beside it. */
export function soundOf({ sound }: PageData): FindSound | null {
  if (sound.kind === 'none') return null;
  if (sound.kind === 'link') return () => ({ address: sound.address, shift: 0 });
  const addresses = new Map<number, string>();
  return ({ start, end }) => {
    const middle = (start + end) / 2;
    const at = sound.clips.findIndex((clip) => clip.start <= middle && middle <= clip.end);
    const clip = sound.clips[at];
    if (!clip) return null;
    let address = addresses.get(at);
    if (!address) {
      address = URL.createObjectURL(new Blob([bytesOf(`clip${at}`)], { type: sound.mime }));
      addresses.set(at, address);
    }
    return { address, shift: clip.lead - clip.start };
  };
}

function bytesOf(id: string): Uint8Array<ArrayBuffer> {
  const text = atob(document.getElementById(id)?.textContent?.trim() ?? '');
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}
