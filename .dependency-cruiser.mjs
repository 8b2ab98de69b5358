/**
 * The way of the data, from first to last. A folder (or file) of src may import from itself and from what stands before
 * it: so each stage can be understood, tested and started without those that come after it.
 */
const WAY = [
  'basics',
  'language',
  'recording',
  'transcript',
  'statements',
  'notes',
  'corrections',
  'sheet',
  // Two sheets are held against each other once both are whole; pages, measures and commands show what comes of it.
  'comparison',
  // Results are placed and what a person wrote beside a recording is read here: the disk's edge of pages and commands.
  'files',
  'page',
  'measure',
  'pipeline[.]ts',
  // Stages are handed a place where results are kept; which place that is, only commands and the library's callers say.
  'cache',
  // The same for whoever wants to be told of it as it goes.
  'read-events[.]ts',
  // A whole reading as one piece of plain data, which a command, a worker thread or another machine may do.
  'batch',
  // The same piece of data on its way to other machines.
  'queue',
  'commands',
  'main[.]ts',
];

const at = (name) => (name.endsWith('[.]ts') ? `^src/${name}$` : `^src/${name}/`);

const onlyBackAlongTheWay = WAY.slice(0, -1).map((name, i) => ({
  name: `${name.replace('[.]ts', '')}-imports-only-what-comes-before-it`,
  comment: 'Stages know what they are given, never what is made of their work: see the way of the data in DEVELOPERS.md.',
  severity: 'error',
  from: { path: at(name) },
  to: { path: WAY.slice(i + 1).map(at) },
}));

export default {
  forbidden: [
    ...onlyBackAlongTheWay,
    {
      name: 'no-circles',
      comment: 'Two files that need each other are one file, or hide a third that both need.',
      severity: 'error',
      from: { path: '^src' },
      to: { circular: true },
    },
    {
      name: 'stages-touch-nothing-outside',
      comment:
        'From words to written text the work is plain functions: no disk, network, process or clock, so that every stage can start from a saved record and a test needs no files.',
      severity: 'error',
      from: { path: '^src/(basics|statements|notes|corrections|sheet|comparison)/' },
      to: { dependencyTypes: ['core'], pathNot: '^(node:)?path$' },
    },
    {
      name: 'the-cache-knows-no-stage',
      comment:
        'What is kept is JSON of a kind and a version to whoever keeps it: a new kind is declared by its stage alone.',
      severity: 'error',
      from: { path: '^src/cache/' },
      to: { path: '^src/', pathNot: '^src/(cache|basics)/|^src/files/write-whole[.]ts$|^src/transcript/models/cache-folder[.]ts$' },
    },
    {
      name: 'the-program-needs-no-training',
      comment: 'What fits models or makes packages is run by developers; no part of the program may lean on it.',
      severity: 'error',
      from: { path: '^src', pathNot: '^src/(training|packaging)/' },
      to: { path: '^src/(training|packaging)/' },
    },
    {
      name: 'the-library-entry-is-for-others',
      comment: 'index.ts is the face for other programs; in here, files are imported where they stand.',
      severity: 'error',
      from: { path: '^src', pathNot: '^src/index[.]ts$' },
      to: { path: '^src/index[.]ts$' },
    },
    {
      name: 'only-what-is-installed-with-us',
      comment: 'An import that is only a development dependency works in a checkout and fails in an installed critsheet.',
      severity: 'error',
      // The bundler is wanted in a checkout alone, which has it: what is installed carries the bundles themselves.
      from: { path: '^src', pathNot: '^src/(training|packaging)/|^src/page/bundle[.]ts$' },
      to: { dependencyTypes: ['npm-dev', 'npm-no-pkg', 'npm-unknown'], dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'nothing-unresolved',
      comment: 'An import that leads nowhere.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'no-drawer-for-leftovers',
      comment: 'A folder is named for what it makes. What three folders use goes to basics, the rest where it is used.',
      severity: 'error',
      from: {},
      to: { path: '/(utils?|helpers?|misc|common|shared|lib)(/|[.])', pathNot: 'node_modules' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'require', 'node', 'default', 'types'] },
  },
};
