/** From a photometric file stored in the scene to a profile, its peak and its emitter. */
import type { Emitter, SceneDocument } from '../../scene/schema';
import type { LampTilt, PhotometricFile } from '../../scene/webs/photometricFile';
import { readStored } from '../../scene/webs/readPhotometricText';
import { emitterOfOpening } from '../photometry/web/emitterShape';
import { webFigures, type WebFigures } from '../photometry/web/figures';
import { gridOf, valueTowards, type WebGrid } from '../photometry/web/grid';
import type { Web } from './compiled';

export interface CompiledWeb {
  readonly profile: Web;
  /** Largest candela of the file. */
  readonly peakCandela: number;
  /** The file's own opening. */
  readonly opening: Emitter;
  readonly tilt: LampTilt | null;
}

/** Light that leaves behind the lamp counts from this share of the peak. */
const BACK_SHARE = 1e-3;

/** Whether some direction of the table behind the lamp is lit. */
function shinesBack({ system, rows, values, columns }: WebGrid): boolean {
  if (system !== 'C') return false; // A and B reach from -90 to 90
  const width = columns.anglesRad.length;
  return values.some((share, at) => share > BACK_SHARE && rows.anglesRad[Math.floor(at / width)]! > Math.PI / 2 + 1e-9);
}

function compile(file: PhotometricFile): CompiledWeb {
  const grid = gridOf(file);
  const peakCandela = grid.values.reduce((a, b) => Math.max(a, b), 0);
  const shares = { ...grid, values: grid.values.map((candela) => candela / peakCandela) };
  return {
    profile: { kind: 'web', grid: shares },
    peakCandela,
    opening: emitterOfOpening(file.opening, shinesBack(shares), file.system),
    tilt: file.tilt,
  };
}

/** By reference: what a stored file says does not change. */
const known = new WeakMap<PhotometricFile, CompiledWeb>();

/** What a stored file says. @throws {RangeError} where the scene has none or it cannot be read; a sound document's can */
export function fileOf(webs: SceneDocument['webs'], webId: string): PhotometricFile {
  const stored = webs?.[webId];
  const read = stored && readStored(stored);
  if (!read?.ok) throw new RangeError(`no photometric file "${webId}" that can be read`);
  return read.file;
}

/** The stored file made ready for the kernel. @throws {RangeError} as `fileOf` */
export function compileWeb(webs: SceneDocument['webs'], webId: string): CompiledWeb {
  const file = fileOf(webs, webId);
  let web = known.get(file);
  if (!web) {
    web = compile(file);
    known.set(file, web);
  }
  return web;
}

const figures = new WeakMap<PhotometricFile, WebFigures>();

/** Figures of a stored file. @throws {RangeError} as `compileWeb` */
export function figuresOfWeb(webs: SceneDocument['webs'], webId: string): WebFigures {
  const file = fileOf(webs, webId);
  let known = figures.get(file);
  if (!known) {
    known = webFigures(gridOf(file));
    figures.set(file, known);
  }
  return known;
}

/**
 * Share of its peak that a web gives along the lamp's axis, which a level or candela "on the axis" means; 1 where it
 * gives nothing there, so that such figures then mean its peak.
 */
export const axisShare = ({ grid }: Web): number => valueTowards(grid, 1, 0, 0) || 1;
