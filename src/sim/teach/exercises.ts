/** The exercises in the order in which they are taught. */
import { bigSource } from './exercises/bigSource';
import { crossLit } from './exercises/crossLit';
import { doubleDistance } from './exercises/doubleDistance';
import { fNumbers } from './exercises/fNumbers';
import { focusedBeam } from './exercises/focusedBeam';
import { lampAndSun } from './exercises/lampAndSun';
import { nets } from './exercises/nets';
import { rakedWall } from './exercises/rakedWall';
import { tiltCard } from './exercises/tiltCard';
import type { Exercise } from './lesson';

export const EXERCISES: readonly Exercise[] = [
  doubleDistance,
  fNumbers,
  tiltCard,
  rakedWall,
  bigSource,
  focusedBeam,
  nets,
  lampAndSun,
  crossLit,
];
