/** Numbers and letters as photometric files carry them. */

/** Nine figures: more than any goniometer measures, so that reading back what was written changes nothing that counts. */
const FIGURES = 9;
export const numberText = (value: number): string => String(Number(value.toPrecision(FIGURES)));

/** Numbers in lines of at most `width` letters. */
export function numberLines(values: readonly number[], width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const value of values) {
    const word = numberText(value);
    if (line !== '' && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') lines.push(line);
  return lines;
}

/** The difference of neighbours where it is the same all along; 0 where it is not. */
export function evenStep(angles: readonly number[]): number {
  const step = (angles[1] ?? 0) - (angles[0] ?? 0);
  return angles.every((angle, i) => i === 0 || Math.abs(angle - angles[i - 1]! - step) < 1e-6) ? step : 0;
}

/** Letters without their accents, other letters than ASCII's as question marks: LM-63 knows ASCII only. */
export const asciiText = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^\x20-\x7e]/gu, '?');

/** Bytes in the western 8-bit letters; others become question marks. */
export const latin1Bytes = (text: string): Uint8Array =>
  Uint8Array.from([...text], (letter) => {
    const code = letter.codePointAt(0) ?? 63;
    return code < 256 ? code : 63;
  });
