import { readFile } from 'node:fs/promises';
import { systemCode } from '../basics/system-message.ts';
import type { ViewFiles, ViewName } from './bundle.ts';

const bundled = new Map<ViewName, Promise<ViewFiles>>();

/** The names under which the build leaves a page's front end beside this file. */
export function builtName(name: ViewName, ending: 'js' | 'css'): string {
  return `view/${name}.bundle.${ending}`;
}

/** A page's front end: as the build left it, or, in a checkout, bundled on first use. */
export function viewFiles(name: ViewName): Promise<ViewFiles> {
  let files = bundled.get(name);
  if (!files) {
    files = findFiles(name);
    bundled.set(name, files);
  }
  return files;
}

async function findFiles(name: ViewName): Promise<ViewFiles> {
  const read = (ending: 'js' | 'css'): Promise<string> =>
    readFile(new URL(builtName(name, ending), import.meta.url), 'utf8');
  try {
    const [script, style] = await Promise.all([read('js'), read('css')]);
    return { script, style };
  } catch (error) {
    if (systemCode(error) !== 'ENOENT') throw error;
    return (await import('./bundle.ts')).bundleView(name);
  }
}
