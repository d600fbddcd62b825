/**
 * Moments of patches and integrals of quadratics over them, by sums round their contours: a triangle a side, with the cell's
 * middle for straight faces and the circle's for round ones; an arc has a sector where a straight side has a triangle.
 */
import { asin } from './host';
import { Numbers } from './memory';
import { arcs, cell, corners } from './patches';

/** Moments that were last taken: 1, u, v, uu, uv, vv; of a slim face also uuu and uuuu. */
export const moments = changetype<Numbers>(memory.data(64, 16));

/**
 * Takes the moments of the patch at `from` about the middle of the present cell, by sums round its contour: a triangle a
 * side.
 * @param slim also uuu and uuuu, for faces so slim that only u counts beyond second order; none of their sides is an arc
 */
export function patchMoments(round: boolean, from: i32, count: i32, slim: boolean): void {
  if (round) roundMoments(from, count);
  else straightMoments(from, count, slim);
}

function straightMoments(from: i32, count: i32, slim: boolean): void {
  const u0 = cell[0];
  const v0 = cell[1];
  let area: f64 = 0;
  let mu: f64 = 0;
  let mv: f64 = 0;
  let muu: f64 = 0;
  let muv: f64 = 0;
  let mvv: f64 = 0;
  let third: f64 = 0;
  let fourth: f64 = 0;
  const end = from + count;
  let a = corners.u(end - 1) - u0;
  let b = corners.v(end - 1) - v0;
  for (let i = from; i < end; i++) {
    const c = corners.u(i) - u0;
    const d = corners.v(i) - v0;
    const twice = a * d - b * c;
    const sumU = a + c;
    const sumV = b + d;
    const product = a * c;
    const square = sumU * sumU - product;
    area += twice;
    mu += twice * sumU;
    mv += twice * sumV;
    muu += twice * square;
    muv += twice * (sumU * sumV + a * b + c * d);
    mvv += twice * (sumV * sumV - b * d);
    if (slim) {
      const squares = square - product; // a² + c²
      third += twice * sumU * squares;
      fourth += twice * (squares * square - product * product);
    }
    a = c;
    b = d;
  }
  moments[0] = area / 2;
  moments[1] = mu / 6;
  moments[2] = mv / 6;
  moments[3] = muu / 12;
  moments[4] = muv / 24;
  moments[5] = mvv / 12;
  if (!slim) return;
  moments[6] = third / 20;
  moments[7] = fourth / 30;
}

/** Sums about the circle's middle, where arcs have closed forms, then moved to the cell's. */
function roundMoments(from: i32, count: i32): void {
  const u0 = cell[0];
  const v0 = cell[1];
  let area: f64 = 0;
  let mu: f64 = 0;
  let mv: f64 = 0;
  let muu: f64 = 0;
  let muv: f64 = 0;
  let mvv: f64 = 0;
  const end = from + count;
  let a = corners.u(end - 1);
  let b = corners.v(end - 1);
  let isArc = arcs[end - 1] === 1;
  for (let i = from; i < end; i++) {
    const c = corners.u(i);
    const d = corners.v(i);
    if (isArc) {
      // The sector between the arc and the circle's middle, where a straight side has a triangle.
      const half = Math.sqrt((c - a) * (c - a) + (d - b) * (d - b)) / 2;
      const turn = 2 * asin(half < 1 ? half : 1);
      const bend = c * d - a * b;
      area += turn;
      mu += 2 * (d - b);
      mv += 2 * (a - c);
      muu += 1.5 * (turn + bend);
      muv += 3 * (d * d - b * b);
      mvv += 1.5 * (turn - bend);
    } else {
      const twice = a * d - b * c;
      const sumU = a + c;
      const sumV = b + d;
      area += twice;
      mu += twice * sumU;
      mv += twice * sumV;
      muu += twice * (sumU * sumU - a * c);
      muv += twice * (sumU * sumV + a * b + c * d);
      mvv += twice * (sumV * sumV - b * d);
    }
    isArc = arcs[i] === 1;
    a = c;
    b = d;
  }
  area /= 2;
  mu /= 6;
  mv /= 6;
  moments[0] = area;
  moments[1] = mu - u0 * area;
  moments[2] = mv - v0 * area;
  moments[3] = muu / 12 - u0 * (2 * mu - u0 * area);
  moments[4] = muv / 24 - u0 * mv - v0 * mu + u0 * v0 * area;
  moments[5] = mvv / 12 - v0 * (2 * mv - v0 * area);
}

/**
 * The integral of a quadratic about the middle of the present cell over the patch at `from`: the sum of its coefficients
 * times the moments, but without taking these one by one.
 * @param quadratic coefficients of 1, u, v, uu, uv, vv; with `slim` also of uuu and uuuu
 */
export function integrate(round: boolean, from: i32, count: i32, quadratic: Numbers, slim: boolean): f64 {
  return round ? integrateRound(from, count, quadratic) : integrateStraight(from, count, quadratic, slim);
}

function integrateStraight(from: i32, count: i32, quadratic: Numbers, slim: boolean): f64 {
  const u0 = cell[0];
  const v0 = cell[1];
  const k0 = quadratic[0] * (1.0 / 2);
  const ku = quadratic[1] * (1.0 / 6);
  const kv = quadratic[2] * (1.0 / 6);
  const kuu = quadratic[3] * (1.0 / 12);
  const kuv = quadratic[4] * (1.0 / 24);
  const kvv = quadratic[5] * (1.0 / 12);
  const third = slim ? quadratic[6] * (1.0 / 20) : 0;
  const fourth = slim ? quadratic[7] * (1.0 / 30) : 0;
  const end = from + count;
  let a = corners.u(end - 1) - u0;
  let b = corners.v(end - 1) - v0;
  let sum: f64 = 0;
  for (let i = from; i < end; i++) {
    const c = corners.u(i) - u0;
    const d = corners.v(i) - v0;
    const sumU = a + c;
    const sumV = b + d;
    const product = a * c;
    const square = sumU * sumU - product;
    let mean = k0 + ku * sumU + kv * sumV + kuu * square;
    mean += kuv * (sumU * sumV + a * b + c * d) + kvv * (sumV * sumV - b * d);
    if (slim) {
      const squares = square - product; // a² + c²
      mean += third * sumU * squares + fourth * (squares * square - product * product);
    }
    sum += (a * d - b * c) * mean;
    a = c;
    b = d;
  }
  return sum;
}

/**
 * Turn of an arc of the unit circle from the square of its chord, for up to a third of a turn, radians; within 2e-13. It is
 * 2 asin(chord / 2), halved once more, where a polynomial does (through Chebyshev points of 0..1/4): a call of asin costs
 * more than all the rest of an arc.
 */
function arcTurn(chordSquare: f64): f64 {
  const q = chordSquare / 4;
  const h = q / (2 + 2 * Math.sqrt(1 - q)); // the square of sin(turn / 4)
  const h2 = h * h;
  const low = 0.9999999999999493 + 0.16666666670725297 * h + h2 * (0.07499999467419081 + 0.04464312691598009 * h);
  const middle =
    0.03037504680430776 + 0.022472626933932132 * h + h2 * (0.016472766815001497 + 0.018638358833837743 * h);
  const high = 0.03194363058267514 * h - 0.0028559774947532327;
  const h4 = h2 * h2;
  return 4 * Math.sqrt(h) * (low + h4 * (middle + h4 * high));
}

function integrateRound(from: i32, count: i32, quadratic: Numbers): f64 {
  const u0 = cell[0];
  const v0 = cell[1];
  const cu = quadratic[1];
  const cv = quadratic[2];
  const cuu = quadratic[3];
  const cuv = quadratic[4];
  const cvv = quadratic[5];
  // About the circle's middle.
  const k0 = (quadratic[0] - u0 * (cu - cuu * u0 - cuv * v0) - v0 * (cv - cvv * v0)) * (1.0 / 2);
  const ku = (cu - 2 * cuu * u0 - cuv * v0) * (1.0 / 6);
  const kv = (cv - 2 * cvv * v0 - cuv * u0) * (1.0 / 6);
  const kuu = cuu * (1.0 / 12);
  const kuv = cuv * (1.0 / 24);
  const kvv = cvv * (1.0 / 12);
  const sector = k0 + 1.5 * (kuu + kvv);
  const bent = 1.5 * (kuu - kvv);
  const end = from + count;
  let a = corners.u(end - 1);
  let b = corners.v(end - 1);
  let isArc = arcs[end - 1] === 1;
  let sum: f64 = 0;
  for (let i = from; i < end; i++) {
    const c = corners.u(i);
    const d = corners.v(i);
    if (isArc) {
      const turn = arcTurn((c - a) * (c - a) + (d - b) * (d - b));
      sum += sector * turn + bent * (c * d - a * b);
      sum += 2 * ku * (d - b) + 2 * kv * (a - c) + 3 * kuv * (d * d - b * b);
    } else {
      const sumU = a + c;
      const sumV = b + d;
      let mean = k0 + ku * sumU + kv * sumV + kuu * (sumU * sumU - a * c);
      mean += kuv * (sumU * sumV + a * b + c * d) + kvv * (sumV * sumV - b * d);
      sum += (a * d - b * c) * mean;
    }
    isArc = arcs[i] === 1;
    a = c;
    b = d;
  }
  return sum;
}
