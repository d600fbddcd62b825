/** What a window's glass does to light that crosses it, as a layer holds it. */
import type { Frame } from '../../scene/geometry/frames';
import { paneOf, type Glass } from '../../scene/glass';
import { paneTransmittance } from '../photometry/pane';
import type { BlockerLayer } from './compiled';

/** Opacity square on, and how it hangs on the slant; null for glass that does nothing. */
export function glassLoss(glass: Glass | undefined, frame: Frame): Pick<BlockerLayer, 'opacity' | 'weave'> | null {
  if (!glass) return null;
  const pane = paneOf(glass);
  if (pane) {
    const opacity = 1 - paneTransmittance(pane, frame.forward, frame.forward);
    return opacity === 0 ? null : { opacity, weave: { pane, frame } };
  }
  const { transmittance = 1 } = glass;
  return transmittance < 1 ? { opacity: 1 - transmittance, weave: null } : null;
}
