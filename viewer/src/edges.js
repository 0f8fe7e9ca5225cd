// The edges of a solid: sharp ones are always drawn, smooth ones where the surface turns away from the eye (its outline).
import { edgeKey } from './record.js';

const ALONG = 0.5;          // cosine: a facet less turned to its surface's own way is a splinter, and tells no sense

/** Unit vector of (x, y, z), or zero. */
export function unit([x, y, z]) {
  const length = Math.hypot(x, y, z) || 1;
  return [x / length, y / length, z / length];
}

export const cross = ([a, b, c], [d, e, f]) => [b * f - c * e, c * d - a * f, a * e - b * d];
export const dot = ([a, b, c], [d, e, f]) => a * d + b * e + c * f;
export const less = ([a, b, c], [d, e, f]) => [a - d, b - e, c - f];

/** Away from the axis, of a cylinder or cone, at a point. */
function away({ point, way, slope }, at) {
  const arm = less(at, point);
  const along = dot(arm, way);
  const out = unit([arm[0] - along * way[0], arm[1] - along * way[1], arm[2] - along * way[2]]);
  return unit([out[0] - slope * way[0], out[1] - slope * way[1], out[2] - slope * way[2]]);
}

export const cornerOf = (points, k) => [points[3 * k], points[3 * k + 1], points[3 * k + 2]];

/** Of each facet the unit normal of its true surface at its middle; of each facet's corners those there (flat, 9 a facet). */
export function normalsOf({ points, triangles, owner, round }) {
  const flat = [];
  const senses = new Map();
  for (let f = 0; f < owner.length; f += 1) {
    const [a, b, c] = [0, 1, 2].map((k) => cornerOf(points, triangles[3 * f + k]));
    const area = cross(less(b, a), less(c, a));
    flat.push({ middle: [0, 1, 2].map((k) => (a[k] + b[k] + c[k]) / 3), area, corners: [a, b, c] });
    const turned = round.get(owner[f]);
    if (turned) senses.set(owner[f], (senses.get(owner[f]) || 0) + dot(away(turned, flat[f].middle), area));
  }
  const facets = [];
  const corners = new Float32Array(9 * owner.length);
  flat.forEach(({ middle, area, corners: at }, f) => {
    const turned = round.get(owner[f]);
    let [normal, each] = [unit(area), null];
    if (turned) {
      const out = away(turned, middle);
      const cosine = dot(out, normal);
      const sense = Math.sign(Math.abs(cosine) > ALONG ? cosine : senses.get(owner[f])) || 1;
      each = at.map((corner) => away(turned, corner).map((n) => n * sense));
      normal = out.map((n) => n * sense);
    }
    facets.push(normal);
    for (let k = 0; k < 3; k += 1) corners.set(each && dot(each[k], each[k]) > 0.5 ? each[k] : normal, 9 * f + 3 * k);
  });
  return { facets, corners };
}

/** Edges as {a, b (vertex numbers), sharp, one, other (normals beside), pair}, sharp ones in chains along their curves. */
export function edgesOf(solid, facets) {
  const { triangles, owner, round, smooth } = solid;
  const open = new Map();
  const [sharp, limbs] = [new Map(), []];
  for (let k = 0; k < triangles.length; k += 1) {
    const f = Math.floor(k / 3);
    const [a, b] = [triangles[k], triangles[k % 3 === 2 ? k - 2 : k + 1]];
    const key = edgeKey(a, b);
    const g = open.get(key);
    if (g === undefined) {
      open.set(key, f);
      continue;
    }
    const edge = { a, b, one: facets[f], other: facets[g] };
    const [low, high] = [Math.min(owner[f], owner[g]), Math.max(owner[f], owner[g])];
    if (low !== high && !smooth.has(key)) {
      const pair = low * 65536 + high;
      if (!sharp.has(pair)) sharp.set(pair, []);
      sharp.get(pair).push(edge);
    } else if (low !== high || round.has(low)) limbs.push(edge);
  }
  return { sharp: [...sharp.values()].flatMap(chained), limbs };
}

/** Edges of one curve, end to end: chains of {a, b, …}. */
function chained(edges) {
  const at = new Map();
  edges.forEach((edge) => [edge.a, edge.b].forEach((v) => at.set(v, [...(at.get(v) || []), edge])));
  const used = new Set();
  const follow = (edge, from) => {
    const chain = [];
    for (let [next, here] = [edge, from]; next;) {
      used.add(next);
      const there = next.a === here ? next.b : next.a;
      chain.push({ ...next, a: here, b: there });
      next = at.get(there).find((other) => !used.has(other));
      here = there;
    }
    return chain;
  };
  const ends = edges.flatMap((edge) => [edge.a, edge.b].filter((v) => at.get(v).length !== 2).map((v) => [edge, v]));
  const starts = [...ends, ...edges.map((edge) => [edge, edge.a])];
  return starts.flatMap(([edge, v]) => (used.has(edge) ? [] : [follow(edge, v)]));
}
