import { createRequire } from 'node:module';
import { dirname } from 'node:path';
import type { Grey } from '../picture/picture.ts';

/** What was read in one line of writing. */
export interface Reading {
  /** Digits and the signs of timecode, nothing else; empty where nothing was read. */
  readonly text: string;
  /** The engine's own, 0 to 1: not a probability, but higher is better. */
  readonly confidence: number;
}

/** An engine that reads lines of digits. It holds memory and a thread until closed. */
export interface DigitReader {
  /** @param line dark digits on a light ground, about 36 pixels high, with some ground around them */
  read(line: Grey): Promise<Reading>;
  close(): Promise<void>;
}

const TRAINED = '@tesseract.js-data/eng/4.0.0_best_int/eng.traineddata.gz';
const SECOND_READING = 0.5;
const MORE_GROUND_PIXELS = 30;
const CHARACTERS = '0123456789:;';

/** Starts the reader: the model comes from an installed package, nothing is fetched and nothing written. */
export async function openDigitReader(): Promise<DigitReader> {
  const { createWorker, OEM, PSM } = (await import('tesseract.js')).default;
  const worker = await createWorker('eng', OEM.LSTM_ONLY, {
    langPath: dirname(createRequire(import.meta.url).resolve(TRAINED)),
    gzip: true,
    // Any other would write the unpacked model into the working folder.
    cacheMethod: 'none',
  });
  type PsmMode = (typeof PSM)[keyof typeof PSM];
  let lastMode: PsmMode = PSM.SINGLE_LINE;
  await worker.setParameters({
    tessedit_char_whitelist: CHARACTERS,
    tessedit_pageseg_mode: lastMode,
    // Without a resolution the engine complains on standard error at each picture.
    user_defined_dpi: '150',
    // Statistics of pictures without writing would go to the program's own output.
    debug_file: '/dev/null',
  });
  const readAs = async (mode: PsmMode, line: Grey): Promise<Reading> => {
    if (mode !== lastMode) await worker.setParameters({ tessedit_pageseg_mode: mode });
    lastMode = mode;
    const { data } = await worker.recognize(pgmOf(line), {}, { text: true, blocks: false });
    return { text: data.text.replaceAll(/\s+/g, ''), confidence: data.confidence / 100 };
  };
  return {
    async read(line) {
      const reading = await readAs(PSM.SINGLE_LINE, line);
      if (reading.text) return reading;
      // A digit or two are often not seen as a line; what is read in another way is less to be relied on.
      const word = await readAs(PSM.SINGLE_WORD, withGround(line, MORE_GROUND_PIXELS));
      const other = word.text ? word : await readAs(PSM.RAW_LINE, line);
      return { ...other, confidence: SECOND_READING * other.confidence };
    },
    async close() {
      await worker.terminate();
    },
  };
}

function withGround({ width, height, pixels }: Grey, border: number): Grey {
  const wide = width + 2 * border;
  const result = new Uint8Array(wide * (height + 2 * border)).fill(255);
  for (let row = 0; row < height; row++) {
    result.set(pixels.subarray(row * width, (row + 1) * width), (row + border) * wide + border);
  }
  return { width: wide, height: height + 2 * border, pixels: result };
}

/** A portable greymap (Netpbm's "P5"), which the engine takes as it is. */
function pgmOf({ width, height, pixels }: Grey): Buffer {
  return Buffer.concat([Buffer.from(`P5\n${width} ${height}\n255\n`, 'latin1'), pixels]);
}
