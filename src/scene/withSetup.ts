import type { SceneDocument, Setup } from './schema';

/** The document with the setup in place of its own of the same id. */
export const withSetup = (document: SceneDocument, setup: Setup): SceneDocument => ({
  ...document,
  setups: document.setups.map((one) => (one.id === setup.id ? setup : one)),
});
