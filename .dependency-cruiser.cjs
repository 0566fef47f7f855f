// A room imports only rooms below it. `npm run layers` fails on any other import, and when it finds nothing to check.
const rooms = {
  base: [],
  geometry: ['base'],
  process: ['base', 'geometry'],
  exchange: ['base', 'geometry'],
  program: ['base', 'geometry'],
  planning: ['base', 'geometry', 'process', 'program'],
  proof: ['base', 'geometry', 'process', 'program'],
  costing: ['base', 'process', 'planning'],
  papers: ['base', 'geometry'],
  job: ['base', 'geometry', 'process', 'exchange', 'program', 'planning', 'proof', 'costing'],
  records: ['base'],
  store: ['base', 'records'],
  'hand-over': ['base', 'geometry', 'process', 'exchange', 'program', 'planning', 'proof', 'costing', 'job', 'papers'],
};
const notTest = { pathNot: '\\.(test|bench)\\.ts$|/testing/' };

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: 'no-circular',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    { name: 'no-orphan-packages', severity: 'error', from: {}, to: { couldNotResolve: true } },
    {
      name: 'engines-do-no-io',
      comment:
        'Engines read no files, no clock, no network; the doors do. papers holds the PDF compiler and is Node-only.',
      severity: 'error',
      from: {
        path: '^packages/(base|geometry|process|exchange|program|planning|proof|costing|job|records)/src',
        ...notTest,
      },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'planning-takes-only-types-from-program',
      comment: 'Planning hands over steps as plain data; it never asks for a dialect.',
      severity: 'error',
      from: { path: '^packages/planning/src', ...notTest },
      to: { path: '^packages/program/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'page-stays-in-the-browser',
      comment: 'The page talks to the server over HTTP only; it must run where there is no Node.',
      severity: 'error',
      from: { path: '^apps/workbench/src', ...notTest },
      to: { path: '^(packages/(store|hand-over|papers)|apps/(server|cli))/' },
    },
    {
      name: 'server-knows-no-command-line',
      severity: 'error',
      from: { path: '^apps/server/src', ...notTest },
      to: { path: '^apps/(cli|workbench)/src/' },
    },
    ...Object.entries(rooms).map(([room, below]) => ({
      name: `${room}-imports-downwards`,
      severity: 'error',
      from: { path: `^packages/${room}/src`, ...notTest },
      to: { path: '^(packages|apps)/', pathNot: `^packages/(${[room, ...below].join('|')})/` },
    })),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '/dist/|/fixtures/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.check.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['gapwright-source', 'import', 'types', 'default'],
    },
  },
};
