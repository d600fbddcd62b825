/** How well a lamp's level is known, in words. */
import type { Lamp } from '../../scene/schema';

export const BASIS_CHOICES = [
  { value: 'typical', name: 'typical, ± 1 stop' },
  { value: 'file', name: 'file, ± 10 %' },
  { value: 'metered', name: 'metered, ± 15 %' },
] as const;

/** A lamp that says nothing is of a typical class. */
export const basisWords = ({ basis = 'typical' }: Pick<Lamp, 'basis'>): string =>
  BASIS_CHOICES.find(({ value }) => value === basis)!.name;
