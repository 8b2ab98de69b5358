import { fileURLToPath } from 'node:url';

export const VIEWS = ['sheet', 'check'] as const;
export type ViewName = (typeof VIEWS)[number];

/** A page's script and style sheet, ready to be put into it. */
export interface ViewFiles {
  readonly script: string;
  readonly style: string;
}

/** Bundles a page's front end from its sources. Only a checkout has them, and the bundler: a package carries the result. */
export async function bundleView(name: ViewName): Promise<ViewFiles> {
  const { build } = await import('esbuild');
  const { outputFiles } = await build({
    entryPoints: [
      fileURLToPath(new URL(`./view/${name}/main.${name === 'check' ? 'tsx' : 'ts'}`, import.meta.url)),
    ],
    bundle: true,
    minify: true,
    write: false,
    outdir: 'out',
    format: 'esm',
    target: ['es2022', 'safari16'],
    charset: 'utf8',
    legalComments: 'inline',
    jsx: 'automatic',
    jsxImportSource: 'preact',
    logLevel: 'silent',
  });
  const text = (ending: string): string => outputFiles.find(({ path }) => path.endsWith(ending))?.text ?? '';
  // Nothing in the script may end the element that it stands in.
  return { script: text('.js').replaceAll('</script', '<\\/script'), style: text('.css') };
}
