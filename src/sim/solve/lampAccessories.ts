/** What a lamp's accessories do to its light as a whole: gels, an egg crate, black edges, scrims round an all-round lamp. */
import type { Lamp } from '../../scene/schema';
import { shiftColour } from '../colour/gels';
import { eggCrateOf } from '../photometry/eggCrate';
import { withBlackEdges } from './blackEdges';
import type { CompiledSource } from './compiled';
import { hasFront } from './lampFront';
import { wholeScrimShare } from './lampScrims';

/**
 * @param source of the lamp without accessories: its stated output is that of the bare lamp
 * @remarks The crate's cells are taken as small against the lamp's face, and their sides run along its right and up. A crate
 *   before a projection spot, a tube or a globe is left out. Second and further crates are left out.
 */
export function dressed(source: CompiledSource, lamp: Lamp): CompiledSource {
  let { peakCandela, profile, colour } = source;
  peakCandela *= wholeScrimShare(lamp);
  for (const accessory of lamp.accessories ?? []) {
    if (accessory.kind === 'gel') {
      peakCandela *= accessory.transmittance;
      colour = colour && shiftColour(colour, accessory.miredShift ?? 0, accessory.greenShift ?? 0);
    }
    if (accessory.kind === 'eggCrate' && hasFront(lamp) && profile.kind !== 'projection' && profile.kind !== 'crated') {
      const { slope, open } = eggCrateOf(accessory.cellM, accessory.depthM, accessory.wallM);
      peakCandela *= open;
      profile = { kind: 'crated', inner: profile, slope };
    }
  }
  return withBlackEdges({ ...source, peakCandela, profile, colour }, lamp);
}
