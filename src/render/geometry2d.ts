/**
 * Flat geometry for the drawings. A path is [x0, y0, x1, y1, ...]; a ring is a path whose end joins its start. Units are
 * the caller's (screen pixels or metres).
 */
export type Path = readonly number[];
/** How far what was drawn for another view lies from there now, px. */
export type Shift = readonly [x: number, y: number];
export type Interval = readonly [from: number, to: number];

/** Even-odd test against one or more rings (holes are rings too). */
export function insideRings(rings: readonly Path[], x: number, y: number): boolean {
  let inside = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [xi, yi, xj, yj] = [ring[i]!, ring[i + 1]!, ring[j]!, ring[j + 1]!];
      if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
    }
  }
  return inside;
}

/** Where the line a + t (b - a) lies inside the rings, as intervals of t (even-odd), not limited to 0..1. */
export function insideIntervals(rings: readonly Path[], ax: number, ay: number, bx: number, by: number): Interval[] {
  const [dx, dy] = [bx - ax, by - ay];
  const crossings: number[] = [];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const sideI = dx * (ring[i + 1]! - ay) - dy * (ring[i]! - ax);
      const sideJ = dx * (ring[j + 1]! - ay) - dy * (ring[j]! - ax);
      if (sideI > 0 === sideJ > 0) continue;
      const share = sideI / (sideI - sideJ);
      const x = ring[i]! + share * (ring[j]! - ring[i]!);
      const y = ring[i + 1]! + share * (ring[j + 1]! - ring[i + 1]!);
      crossings.push(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy));
    }
  }
  crossings.sort((a, b) => a - b);
  const intervals: Interval[] = [];
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    if (crossings[i + 1]! - crossings[i]! > 1e-9) intervals.push([crossings[i]!, crossings[i + 1]!]);
  }
  return intervals;
}

/** `whole` without `holes`; intervals come back sorted and apart. */
export function subtractIntervals(whole: readonly Interval[], holes: readonly Interval[]): Interval[] {
  let rest = [...whole];
  for (const [from, to] of holes) {
    rest = rest.flatMap(([a, b]): Interval[] => {
      if (to <= a || from >= b) return [[a, b]];
      const pieces: Interval[] = [];
      if (from - a > 1e-9) pieces.push([a, from]);
      if (b - to > 1e-9) pieces.push([to, b]);
      return pieces;
    });
  }
  return rest.sort((p, q) => p[0] - q[0]);
}

/** Whether the boxes round two paths do not meet. */
function areApart(a: Path, b: Path): boolean {
  for (const axis of [0, 1]) {
    let [lowA, highA, lowB, highB] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let i = axis; i < a.length; i += 2) [lowA, highA] = [Math.min(lowA, a[i]!), Math.max(highA, a[i]!)];
    for (let i = axis; i < b.length; i += 2) [lowB, highB] = [Math.min(lowB, b[i]!), Math.max(highB, b[i]!)];
    if (highA < lowB || highB < lowA) return true;
  }
  return false;
}

/** Pieces of a path inside and outside the rings, in order along the path. */
export function splitByRings(path: Path, rings: readonly Path[]): { inside: number[][]; outside: number[][] } {
  const pieces = { inside: [] as number[][], outside: [] as number[][] };
  if (areApart(path, rings[0] ?? [])) return { inside: [], outside: [[...path]] };
  let current: number[] = [];
  let currentInside: boolean | null = null;
  for (let i = 0; i + 3 < path.length; i += 2) {
    const [ax, ay, bx, by] = [path[i]!, path[i + 1]!, path[i + 2]!, path[i + 3]!];
    if (ax === bx && ay === by) continue;
    const stops = insideIntervals(rings, ax, ay, bx, by)
      .flat()
      .filter((t) => t > 1e-9 && t < 1 - 1e-9);
    const marks = [0, ...stops, 1];
    for (let k = 0; k + 1 < marks.length; k++) {
      const [from, to] = [marks[k]!, marks[k + 1]!];
      const middle = (from + to) / 2;
      const inside = insideRings(rings, ax + middle * (bx - ax), ay + middle * (by - ay));
      if (inside !== currentInside) {
        current = [ax + from * (bx - ax), ay + from * (by - ay)];
        (inside ? pieces.inside : pieces.outside).push(current);
        currentInside = inside;
      }
      current.push(ax + to * (bx - ax), ay + to * (by - ay));
    }
  }
  return pieces;
}

/** Cuts a path into dashes: `pattern` is on, off, on, off ... lengths. */
export function dashPath(path: Path, pattern: readonly number[]): number[][] {
  const dashes: number[][] = [];
  let index = 0;
  let left = pattern[0] ?? Infinity;
  let current: number[] | null = path.length >= 4 ? [path[0]!, path[1]!] : null;
  if (current) dashes.push(current);
  for (let i = 0; i + 3 < path.length; i += 2) {
    let [x, y] = [path[i]!, path[i + 1]!];
    let rest = Math.hypot(path[i + 2]! - x, path[i + 3]! - y);
    if (rest === 0) continue;
    const [ux, uy] = [(path[i + 2]! - x) / rest, (path[i + 3]! - y) / rest];
    while (rest > left) {
      x += ux * left;
      y += uy * left;
      rest -= left;
      current?.push(x, y);
      index = (index + 1) % pattern.length;
      left = pattern[index]!;
      current = index % 2 === 0 ? [x, y] : null;
      if (current) dashes.push(current);
    }
    left -= rest;
    current?.push(path[i + 2]!, path[i + 3]!);
  }
  return dashes.filter((dash) => dash.length >= 4);
}

/** Parallel hatch lines inside the rings: `angleDeg` counter-clockwise from +x with y up, `pitch` between lines. */
export function hatchRings(rings: readonly Path[], pitch: number, angleDeg = 45): number[][] {
  const [dx, dy] = [Math.cos((angleDeg * Math.PI) / 180), -Math.sin((angleDeg * Math.PI) / 180)];
  let [low, high] = [Infinity, -Infinity];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const across = -dy * ring[i]! + dx * ring[i + 1]!;
      low = Math.min(low, across);
      high = Math.max(high, across);
    }
  }
  const lines: number[][] = [];
  if (!(high > low) || (high - low) / pitch > 4000) return lines;
  for (let k = Math.ceil(low / pitch); k * pitch < high; k++) {
    const [x, y] = [-dy * k * pitch, dx * k * pitch];
    for (const [from, to] of insideIntervals(rings, x, y, x + dx, y + dy)) {
      lines.push([x + from * dx, y + from * dy, x + to * dx, y + to * dy]);
    }
  }
  return lines;
}

export function distanceToSegment(px: number, py: number, ax: number, ay: number, bx: number, by: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const sizeSquared = dx * dx + dy * dy;
  const t = sizeSquared === 0 ? 0 : Math.min(1, Math.max(0, ((px - ax) * dx + (py - ay) * dy) / sizeSquared));
  return Math.hypot(px - ax - t * dx, py - ay - t * dy);
}

/** Distance to the nearest segment of a path; closed paths count their last edge. */
export function distanceToPath(path: Path, px: number, py: number, closed = false): number {
  let nearest = path.length === 2 ? Math.hypot(px - path[0]!, py - path[1]!) : Infinity;
  for (let i = 0; i + 3 < path.length; i += 2) {
    nearest = Math.min(nearest, distanceToSegment(px, py, path[i]!, path[i + 1]!, path[i + 2]!, path[i + 3]!));
  }
  if (closed && path.length >= 6) {
    const n = path.length;
    nearest = Math.min(nearest, distanceToSegment(px, py, path[n - 2]!, path[n - 1]!, path[0]!, path[1]!));
  }
  return nearest;
}

/** The path without points closer than `tolerance` to the line that remains (Douglas and Peucker 1973). */
export function simplifyPath(path: Path, tolerance: number): number[] {
  const count = path.length / 2;
  if (count < 3) return [...path];
  const keep = new Uint8Array(count);
  keep[0] = keep[count - 1] = 1;
  const stack: [number, number][] = [[0, count - 1]];
  for (let span = stack.pop(); span; span = stack.pop()) {
    const [from, to] = span;
    let [farthest, at] = [tolerance, -1];
    for (let i = from + 1; i < to; i++) {
      const gap = distanceToSegment(
        path[2 * i]!,
        path[2 * i + 1]!,
        path[2 * from]!,
        path[2 * from + 1]!,
        path[2 * to]!,
        path[2 * to + 1]!,
      );
      if (gap > farthest) [farthest, at] = [gap, i];
    }
    if (at > 0) {
      keep[at] = 1;
      stack.push([from, at], [at, to]);
    }
  }
  return path.filter((_, i) => keep[i >> 1] === 1);
}

/** A ring simplified so that no corner is kept merely because the ring starts there. */
export function simplifyRing(ring: Path, tolerance: number): number[] {
  const count = ring.length / 2;
  if (count < 4) return [...ring];
  let [far, farIndex] = [-1, 0];
  for (let i = 0; i < count; i++) {
    const gap = Math.hypot(ring[2 * i]! - ring[0]!, ring[2 * i + 1]! - ring[1]!);
    if (gap > far) [far, farIndex] = [gap, i];
  }
  // From the corner farthest from an arbitrary start: surely a corner, unlike the start itself.
  const turned = [
    ...ring.slice(2 * farIndex),
    ...ring.slice(0, 2 * farIndex),
    ring[2 * farIndex]!,
    ring[2 * farIndex + 1]!,
  ];
  return simplifyPath(turned, tolerance).slice(0, -2);
}

export function circlePath(x: number, y: number, radius: number, pieces = 28): number[] {
  const path: number[] = [];
  for (let i = 0; i < pieces; i++) {
    const turn = (i / pieces) * 2 * Math.PI;
    path.push(x + radius * Math.cos(turn), y + radius * Math.sin(turn));
  }
  return path;
}
