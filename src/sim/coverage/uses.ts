/** What an evenly lit thing is for, and how even that asks it to be: brightest to darkest, stops. */
export interface Use {
  readonly id: string;
  readonly name: string;
  readonly rangeStops: number;
  readonly basis: string;
}
/** Common practice; there is no standard. A range "± 1/3" is 2/3 from brightest to darkest. */
export const USES: readonly Use[] = [
  { id: 'keyed', name: 'Keyed screen', rangeStops: 1 / 3, basis: 'trade articles on lighting keyed screens' },
  { id: 'copy', name: 'Table or flat copy', rangeStops: 1 / 3, basis: 'common practice, no source' },
  { id: 'backdrop', name: 'Backdrop or cyc', rangeStops: 2 / 3, basis: 'common practice, no source' },
  { id: 'wash', name: 'Loose wash', rangeStops: 1, basis: 'common practice, no source' },
];
