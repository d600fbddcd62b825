/** The scene without what no light falls on. */
import type { SceneDocument } from '../../scene/schema';

/**
 * A follower of the open scene that leaves out the pictures and dimensions of the plan. It gives the same object as last
 * time where nothing else has changed: they are not sent to the solver, and changing them asks for no new answer.
 */
export function createSceneToSolve(): (scene: SceneDocument) => SceneDocument {
  let last: SceneDocument | null = null;
  return (scene) => {
    if (scene.pictures === undefined && scene.dimensions === undefined) return scene;
    const { pictures: _pictures, dimensions: _dimensions, ...bare } = scene;
    const keys = Object.keys(bare) as (keyof typeof bare)[];
    const before = last;
    const isSame =
      before !== null && keys.length === Object.keys(before).length && keys.every((key) => bare[key] === before[key]);
    last = isSame ? before : bare;
    return last;
  };
}
