import { writeWhole } from '../../src/files/write-whole.ts';

/** Writes as many bytes as are asked for into a file, where the system lets no file grow so large; says what came of it. */
const [path = '', bytes = ''] = process.argv.slice(2);
// Sent where a file grows too large; unheard, it would end the process before it could tell.
process.on('SIGXFSZ', () => undefined);
await writeWhole(path, 'x'.repeat(Number(bytes))).then(
  () => console.log('written'),
  (error: NodeJS.ErrnoException) => console.log(error.code),
);
