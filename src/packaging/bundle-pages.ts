import { mkdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { bundleView, VIEWS } from '../page/bundle.ts';
import { builtName } from '../page/view-files.ts';

/** Puts each page's front end, ready made, where the compiled program looks for it: what is installed has no bundler. */
export async function bundlePages(dist: string): Promise<void> {
  const page = join(dist, 'page');
  // The sources' own compiled files are in the bundles already.
  await rm(join(page, 'view'), { recursive: true, force: true });
  await mkdir(join(page, 'view'), { recursive: true });
  for (const name of VIEWS) {
    const { script, style } = await bundleView(name);
    await writeFile(join(page, builtName(name, 'js')), script);
    await writeFile(join(page, builtName(name, 'css')), style);
  }
}
