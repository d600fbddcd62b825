/** Symbol outlines: the subset of SVG path data that the symbols use (M L H V C Q T A Z), flattened to straight pieces. */
export interface FlatPath {
  readonly points: readonly number[];
  readonly closed: boolean;
}

const CURVE_PIECES = 10;
const PARAMETERS: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, Q: 4, T: 2, A: 7, Z: 0 };

interface Pen {
  x: number;
  y: number;
  startX: number;
  startY: number;
  /** Last control point of a quadratic curve, for T. */
  controlX: number;
  controlY: number;
  afterQuadratic: boolean;
}

/** Paths of the given data; throws on commands outside the subset, since the symbols are the code's own. */
export function flattenSvgPath(data: string): FlatPath[] {
  const tokens = data.match(/[a-zA-Z]|-?(?:\d+\.\d*|\.\d+|\d+)/g) ?? [];
  const paths: { points: number[]; closed: boolean }[] = [];
  const pen: Pen = { x: 0, y: 0, startX: 0, startY: 0, controlX: 0, controlY: 0, afterQuadratic: false };
  let points: number[] = [];
  let command = '';
  let at = 0;
  while (at < tokens.length) {
    if (/[a-zA-Z]/.test(tokens[at]!)) command = tokens[at++]!;
    const upper = command.toUpperCase();
    const count = PARAMETERS[upper];
    if (count === undefined) throw new Error(`path command ${command} is not drawn here`);
    const values = tokens.slice(at, at + count).map(Number);
    at += count;
    const relative = command !== upper;
    if (upper === 'Z') {
      const last = paths[paths.length - 1];
      if (last) last.closed = true;
      [pen.x, pen.y, pen.afterQuadratic] = [pen.startX, pen.startY, false];
    } else if (upper === 'M') {
      movePen(pen, values[0]! + (relative ? pen.x : 0), values[1]! + (relative ? pen.y : 0));
      points = [pen.x, pen.y];
      paths.push({ points, closed: false });
      command = relative ? 'l' : 'L';
    } else {
      drawPiece(pen, points, upper, values, relative);
    }
  }
  return paths;
}

function movePen(pen: Pen, x: number, y: number): void {
  [pen.x, pen.y, pen.startX, pen.startY, pen.afterQuadratic] = [x, y, x, y, false];
}

function drawPiece(pen: Pen, points: number[], upper: string, values: readonly number[], relative: boolean): void {
  const [ox, oy] = relative ? [pen.x, pen.y] : [0, 0];
  const v = (index: number): number => values[index]! + (index % 2 === 0 ? ox : oy);
  const { x, y } = pen;
  let [endX, endY] = [x, y];
  let quadratic = false;
  if (upper === 'L') [endX, endY] = [v(0), v(1)];
  if (upper === 'H') endX = values[0]! + ox;
  if (upper === 'V') endY = values[0]! + oy;
  if (upper === 'C') {
    [endX, endY] = [v(4), v(5)];
    pushCubic(points, [x, y, v(0), v(1), v(2), v(3), endX, endY]);
  } else if (upper === 'Q' || upper === 'T') {
    quadratic = true;
    const reflected = pen.afterQuadratic ? [2 * x - pen.controlX, 2 * y - pen.controlY] : [x, y];
    const [cx, cy] = upper === 'Q' ? [v(0), v(1)] : [reflected[0]!, reflected[1]!];
    [endX, endY] = upper === 'Q' ? [v(2), v(3)] : [v(0), v(1)];
    pushQuadratic(points, [x, y, cx, cy, endX, endY]);
    [pen.controlX, pen.controlY] = [cx, cy];
  } else if (upper === 'A') {
    [endX, endY] = [values[5]! + ox, values[6]! + oy];
    pushArc(points, [x, y, endX, endY], values[0]!, values[3] === 1, values[4] === 1);
  } else {
    points.push(endX, endY);
  }
  [pen.x, pen.y, pen.afterQuadratic] = [endX, endY, quadratic];
}

function pushQuadratic(points: number[], [x0, y0, x1, y1, x2, y2]: readonly number[]): void {
  for (let i = 1; i <= CURVE_PIECES; i++) {
    const t = i / CURVE_PIECES;
    const [a, b, c] = [(1 - t) ** 2, 2 * t * (1 - t), t * t];
    points.push(a * x0! + b * x1! + c * x2!, a * y0! + b * y1! + c * y2!);
  }
}

function pushCubic(points: number[], [x0, y0, x1, y1, x2, y2, x3, y3]: readonly number[]): void {
  for (let i = 1; i <= CURVE_PIECES; i++) {
    const t = i / CURVE_PIECES;
    const [a, b, c, d] = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3];
    points.push(a * x0! + b * x1! + c * x2! + d * x3!, a * y0! + b * y1! + c * y2! + d * y3!);
  }
}

/** Circular arc by the centre form of SVG 2, appendix B.2.4 (one radius: the symbols use no ellipses). */
function pushArc(
  points: number[],
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  radiusWanted: number,
  large: boolean,
  clockwiseOnScreen: boolean,
): void {
  const half = Math.hypot(x1 - x0, y1 - y0) / 2;
  const radius = Math.max(radiusWanted, half);
  const rise = Math.sqrt(Math.max(0, radius * radius - half * half)) * (large === clockwiseOnScreen ? -1 : 1);
  const [ux, uy] = [(x1 - x0) / (2 * half), (y1 - y0) / (2 * half)];
  const [cx, cy] = [(x0 + x1) / 2 - uy * rise, (y0 + y1) / 2 + ux * rise];
  const from = Math.atan2(y0 - cy, x0 - cx);
  let turn = Math.atan2(y1 - cy, x1 - cx) - from;
  if (clockwiseOnScreen && turn < 0) turn += 2 * Math.PI;
  if (!clockwiseOnScreen && turn > 0) turn -= 2 * Math.PI;
  const pieces = Math.max(4, Math.ceil(Math.abs(turn) / 0.26));
  for (let i = 1; i <= pieces; i++) {
    const angle = from + (turn * i) / pieces;
    points.push(cx + radius * Math.cos(angle), cy + radius * Math.sin(angle));
  }
}
