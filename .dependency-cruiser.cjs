/** The import rules of the house (DEVELOPERS.md, "Map of the house"): data and imports flow one way. */
const mayImport = (folder, ...allowed) => ({
  name: `${folder}-imports`,
  comment: `src/${folder} may import only ${[folder, ...allowed].join(', ')}`,
  severity: 'error',
  from: { path: `^src/${folder}/` },
  to: { path: '^src/', pathNot: `^src/(${[folder, ...allowed].join('|')})/` },
});
const noPackages = (folder, packages) => ({
  name: `${folder}-packages`,
  severity: 'error',
  from: { path: `^src/${folder}/` },
  to: { path: `^node_modules/(${packages.join('|')})` },
});
const screenPackages = ['react', 'react-dom', 'react-aria-components', 'pixi.js', 'zustand', 'idb'];
module.exports = {
  forbidden: [
    mayImport('scene'),
    mayImport('sim', 'scene'),
    mayImport('files', 'scene', 'sim'),
    mayImport('rig', 'scene', 'sim'),
    mayImport('render', 'scene', 'sim'),
    mayImport('ui', 'scene', 'sim', 'files', 'rig', 'render'),
    mayImport('cli', 'scene', 'sim', 'files', 'rig'),
    ...['scene', 'sim', 'files', 'rig', 'cli'].map((folder) => noPackages(folder, screenPackages)),
    noPackages('render', ['react', 'react-dom', 'react-aria-components', 'zustand']),
    {
      name: 'pure-folders-use-no-node',
      comment: 'scene, sim, rig and render run in the browser, in the worker and in Node alike',
      severity: 'error',
      from: { path: '^src/(scene|sim|rig|render|ui)/' },
      to: { dependencyTypes: ['core'] },
    },
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'brute-force-shares-no-code',
      comment: 'the independent integrator is only worth something while it shares nothing with the kernel',
      severity: 'error',
      from: { path: '^tests/brute/' },
      to: { path: '^(kernel|src/(sim|scene/geometry))' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'default'] },
  },
};
