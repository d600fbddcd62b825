/** The validation table as Markdown: measured against expected, worst first, then by topic. */
import { shareOfTolerance, type Row, type RowKind } from './row';

const figure = (value: number): string =>
  Number.isFinite(value) ? String(Number(value.toPrecision(8))) : String(value);
const cell = (text: string): string => text.replaceAll('|', '\\|');
const KIND: Readonly<Record<RowKind, string>> = {
  law: 'law',
  kernel: 'kernel',
  judgement: 'judgement',
};

function line(row: Row): string {
  const { type, value } = row.tolerance;
  const allowed = type === 'rel' ? `${figure(value * 100)} %` : `${figure(value)} ${row.unit}`;
  const used = `${figure(Number((100 * shareOfTolerance(row)).toPrecision(2)))} %`;
  const cells = [
    row.id,
    KIND[row.tests],
    figure(row.measured),
    figure(row.expected),
    row.unit,
    allowed,
    used,
    row.pass ? 'yes' : '**no**',
    row.source,
  ];
  return `| ${cells.map(cell).join(' | ')} |`;
}
const HEAD = [
  '| id | tests | measured | expected | unit | tolerance | used | pass | source |',
  '|---|---|---|---|---|---|---|---|---|',
];

/** Markdown of all rows. @returns the whole page, ending in a line feed */
export function validationPage(rows: readonly Row[]): string {
  const worst = [...rows].sort((a, b) => shareOfTolerance(b) - shareOfTolerance(a)).slice(0, 5);
  const topics = [...new Set(rows.map((row) => row.topic))];
  const count = (kind: RowKind) => rows.filter((row) => row.tests === kind).length;
  return [
    '# Validation',
    '',
    'Written by `npm run validate`; do not edit. Every row compares a figure of this code with one from outside it: a',
    'published formula worked twice, by closed form and by an independent method (`tests/reference/README.md`).',
    'A *law* row calls the formula itself; a *kernel* row builds a scene document, solves it and reads a point or an edge;',
    'a *judgement* row is a figure of the sun judgement. *Used* is the difference as a share of the tolerance.',
    '',
    `${rows.length} rows: ${count('law')} law, ${count('kernel')} kernel, ${count('judgement')} judgement;`,
    `${rows.filter((row) => row.pass).length} pass, ${rows.filter((row) => !row.pass).length} fail.`,
    '',
    '## Nearest to their tolerance',
    '',
    ...HEAD,
    ...worst.map(line),
    ...topics.flatMap((topic) => ['', `## ${topic}`, '', ...HEAD, ...rows.filter((r) => r.topic === topic).map(line)]),
    '',
  ].join('\n');
}
