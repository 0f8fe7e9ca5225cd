// Reads the record of a solid that sheetgen/sets/packs/solids.py writes: arrays in millimetres, x right, y away, z up.

const MISSING = 'the record of the solid is not whole: ';

/** Whole numbers from base64: seven bits a byte, the eighth says that more follow. */
export function numbers(text) {
  const bytes = atob(text);
  const found = [];
  for (let at = 0; at < bytes.length;) {
    let value = 0;
    let scale = 1;
    for (;;) {
      const byte = bytes.charCodeAt(at);
      at += 1;
      value += (byte & 127) * scale;
      scale *= 128;
      if (byte < 128) break;
      if (at >= bytes.length) throw new Error(`${MISSING}it breaks off within a number`);
    }
    found.push(value);
  }
  return found;
}

/** Vertices (flat), mm: each less the one two before it, odd numbers below 0. */
function places(text, step) {
  const found = Float64Array.from(numbers(text), (n) => (n % 2 ? -(n + 1) / 2 : n / 2));
  for (let k = 6; k < found.length; k += 1) found[k] += found[k - 6];
  return found.map((n) => n * step);
}

/** Triangles (flat): 4 r + k, which shares side k of the one before and has the r-th vertex back from the newest (0: a new one), or
 * 3 and three such r. */
function trianglesOf(text, count) {
  const told = numbers(text);
  const found = [];
  let known = 0;
  const vertex = (back) => {
    if (back === 0) known += 1;
    if (back > known || known > count) throw new Error(`${MISSING}a facet has a corner that is not there`);
    return back === 0 ? known - 1 : known - back;
  };
  for (let at = 0; at < told.length;) {
    const side = told[at] % 4;
    if (side === 3) {
      found.push(vertex(told[at + 1]), vertex(told[at + 2]), vertex(told[at + 3]));
      at += 4;
    } else {
      const before = found.slice(-3);
      found.push(before[(side + 1) % 3], before[side], vertex(Math.floor(told[at] / 4)));
      at += 1;
    }
  }
  return new Uint32Array(found);
}

/** {size, points (flat), triangles (flat), owner, round: Map of surface -> {point, way, slope}, smooth: Set, gaps, corner, views}. */
export function solidOf(record) {
  const { step } = record;
  if (!(step > 0 && record.vertex_step > 0)) throw new Error(`${MISSING}it has no step`);
  const points = places(record.vertices, record.vertex_step);
  const triangles = trianglesOf(record.triangles, points.length / 3);
  const owner = new Uint16Array(triangles.length / 3);
  let at = 0;
  record.facets.forEach((count, surface) => { owner.fill(surface, at, at += count); });
  if (at !== owner.length) throw new Error(`${MISSING}${at} facets are told of, ${owner.length} are there`);
  const round = new Map(record.round.map(([surface, ...n]) => [surface, {
    point: n.slice(0, 3), way: n.slice(3, 6), slope: n[6],
  }]));
  const smooth = new Set(record.smooth.map(([a, b]) => edgeKey(a, b)));
  const views = {};
  for (const [name, view] of Object.entries(record.views)) {
    views[name] = {};
    for (const kind of ['visible', 'hidden', 'centre']) views[name][kind] = polylines(view[kind], step);
  }
  return {
    size: record.size.map((n) => n * step), gaps: record.gaps.map((n) => n * step), corner: record.corner,
    points, triangles, owner, round, smooth, views,
  };
}

export const edgeKey = (a, b) => (a < b ? a * 1048576 + b : b * 1048576 + a);

const CHORD = 0.004;        // mm by which a chord may leave its arc
const TURN = 1e-6;          // radians in a step of an arc's angles

/** The lines of one kind as polylines [[u, v], …], mm in the view's own axes. */
function polylines({ straight, arcs, curves }, step) {
  const found = [];
  for (const [a, b, c, d] of straight) found.push([[a * step, b * step], [c * step, d * step]]);
  for (const [cx, cy, ax, ay, bx, by, start, stop] of arcs) {
    const reach = Math.max(Math.hypot(ax, ay), Math.hypot(bx, by)) * step;
    const [from, to] = [start * TURN, stop * TURN];
    const count = Math.max(2, Math.ceil((to - from) / (2 * Math.acos(1 - Math.min(0.5, CHORD / reach)))) + 1);
    found.push(Array.from({ length: count }, (_, k) => {
      const t = from + ((to - from) * k) / (count - 1);
      const [cos, sin] = [Math.cos(t), Math.sin(t)];
      return [(cx + ax * cos + bx * sin) * step, (cy + ay * cos + by * sin) * step];
    }));
  }
  for (const knots of curves) {
    let [u, v] = [0, 0];
    const line = [];
    for (let k = 0; k < knots.length; k += 2) {
      u += knots[k];
      v += knots[k + 1];
      line.push([u * step, v * step]);
    }
    found.push(line);
  }
  return found;
}
