// The planes of projection round the part, the views on them, and how they fold out into the plane of the front view.
import { BufferAttribute, BufferGeometry, DoubleSide, GLSL3, Group, Matrix4, Mesh, RawShaderMaterial, Vector3, Vector4 } from 'three';
import { ORDER, PENS } from './pens.js';
import { readyStrokes, Strokes } from './strokes.js';

const SAME = 0.02;          // mm: a corner of the part this near a line's end is that end
const KINDS = ['hidden', 'centre', 'visible'];

/** How far a stage that lasts from ``start`` to ``stop`` has come when the whole has come to ``share``; slow at both ends. */
export function stage(share, start, stop) {
  const t = Math.min(1, Math.max(0, (share - start) / (stop - start)));
  return t * t * (3 - 2 * t);
}

export const STAGES = { planes: [0, 0.12], rays: [0.12, 0.36], views: [0.3, 0.42], part: [0.46, 0.62], swing: [0.5, 1] };

/** The box round a part of ``size``, so wide that the unfolded views stand ``gaps`` [across, up] apart. */
function wallsOf({ size: [w, d, h], gaps: [across, up] }) {
  const deep = Math.min(across, up) / 2;
  const [wide, high] = [across - deep, up - deep];
  return { left: -wide, right: w + wide, front: -deep, back: d + deep, low: -high, high: h + high };
}

/**
 * Where each view's plane stands and how it folds out. ``place``: view mm (u, v) to part mm; ``corners`` of the plane;
 * ``hinge``: a point of the edge it shares with the front plane, the edge's way, and the angle by which it turns about that.
 * First angle: a view lies beyond the part, on the side away from its reader; third angle: between the part and its reader.
 */
export function planesOf(solid, angle, names) {
  const { left, right, front, back, low, high } = wallsOf(solid);
  const [, d] = solid.size;
  const first = angle === 'first';
  const [y, z] = [first ? back : front, first ? low : high];
  const quarter = Math.PI / 2;
  const upright = (x) => [[x, front, low], [x, back, low], [x, back, high], [x, front, high]];
  const beside = (x, place) => ({
    place, corners: upright(x), hinge: { at: [x, y, 0], way: [0, 0, 1], turn: (x > 0) === first ? quarter : -quarter },
    shift: (p) => [x, p[1], p[2]],
  });
  const [ofLeft, ofRight] = first ? [right, left] : [left, right];
  const every = {
    front: {
      place: ([u, v]) => [u, y, v], shift: (p) => [p[0], y, p[2]], hinge: null,
      corners: [[left, y, low], [right, y, low], [right, y, high], [left, y, high]],
    },
    top: {
      place: ([u, v]) => [u, v, z], shift: (p) => [p[0], p[1], z],
      corners: [[left, front, z], [right, front, z], [right, back, z], [left, back, z]],
      hinge: { at: [0, y, z], way: [1, 0, 0], turn: quarter },
    },
    left: beside(ofLeft, ([u, v]) => [ofLeft, d - u, v]),
    right: beside(ofRight, ([u, v]) => [ofRight, u, v]),
  };
  return Object.fromEntries(names.map((name) => [name, every[name]]));
}

/** The planes as {group, planes, ready(frame, colours, share), lines(), corners()}. */
export function boxOf(solid, angle, names) {
  const planes = planesOf(solid, angle, names);
  const corners = cornersOf(solid);
  const group = new Group();
  const sheets = Object.entries(planes).map(([name, plane]) => sheetOf(name, plane, solid.views[name], corners));
  sheets.forEach(({ pivot }) => group.add(pivot));
  const swung = (share) => sheets.forEach(({ pivot, hinge }) => {
    if (hinge) pivot.quaternion.setFromAxisAngle(new Vector3(...hinge.way), hinge.turn * stage(share, ...STAGES.swing));
    pivot.updateMatrixWorld(true);
  });
  const placed = ({ content }, points) => points.map((point) => new Vector3(...point).applyMatrix4(content.matrixWorld).toArray());
  return {
    group,
    swung,
    /** The corners of all planes where they stand now, part mm. */
    corners: () => sheets.flatMap((sheet) => placed(sheet, sheet.plane.corners)),
    /** The lines of the views where they lie now: {view, kind, points: [[x, y, z], …]}, part mm. */
    lines: () => sheets.flatMap((sheet) => KINDS.flatMap((kind) => sheet.view[kind].map((line) => ({
      view: sheet.name, kind, points: placed(sheet, line.map(sheet.plane.place)),
    })))),
    ready(frame, colours, share) {
      group.visible = share > 0;
      sheets.forEach((sheet) => readySheet(sheet, frame, colours, share));
    },
  };
}

function readySheet(sheet, frame, { ink, pane, border }, share) {
  const shown = stage(share, ...STAGES.planes);
  const rays = 1 - stage(share, ...STAGES.part);
  sheet.pane.material.uniforms.colour.value.set(...pane, 0.07 * shown);
  for (const mesh of sheet.border) readyStrokes(mesh, frame, border, shown);
  for (const mesh of sheet.drawn) readyStrokes(mesh, frame, ink, stage(share, ...STAGES.views));
  sheet.rays.forEach((ray, k) => {
    ray.group.visible = rays > 0 && share > STAGES.rays[0];
    ray.reach(stage(share, ...STAGES.rays));
    ray.meshes.forEach((mesh) => readyStrokes(mesh, frame, border, ray.group.visible ? rays : 0));
  });
}

/** One plane with its view, hung on its hinge. */
function sheetOf(name, plane, view, corners) {
  const [pivot, content] = [new Group(), new Group()];
  const at = plane.hinge ? plane.hinge.at : [0, 0, 0];
  pivot.position.set(...at);
  content.position.set(...at.map((n) => -n));
  pivot.add(content);
  const pane = paneOf(plane.corners);
  const rim = plane.corners.map((corner, k) => ({ first: corner, last: plane.corners[(k + 1) % 4] }));
  const twice = (strokes, pen) => [strokes.mesh(pen, 'none', ORDER.beneath), strokes.mesh(pen, 'before', ORDER.above)];
  const border = twice(new Strokes([rim]), PENS.border);
  const drawn = KINDS.flatMap((kind) => twice(new Strokes(view[kind].map((line) => chainOf(line.map(plane.place)))), PENS[kind]));
  const rays = [raysOf(view, plane, corners)];
  content.add(pane, ...border, ...drawn, ...rays.map((ray) => ray.group));
  return { name, plane, view, hinge: plane.hinge, pivot, content, pane, border, drawn, rays };
}

const chainOf = (points) => points.slice(1).map((point, k) => ({ first: points[k], last: point }));

function paneOf(corners) {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(corners.flat()), 3));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  const pane = new Mesh(geometry, new RawShaderMaterial({
    glslVersion: GLSL3, transparent: true, depthTest: false, depthWrite: false, side: DoubleSide,
    vertexShader: `precision highp float;
uniform mat4 modelViewMatrix, projectionMatrix;
in vec3 position;
void main() { gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`,
    fragmentShader: `precision highp float;
uniform vec4 colour;
out vec4 found;
void main() { found = colour; }`,
    uniforms: { colour: { value: new Vector4() } },
  }));
  pane.frustumCulled = false;
  pane.renderOrder = ORDER.panes;
  return pane;
}

/** Corners of the part at which edges end, (x, y, z): projectors start from them. */
function cornersOf({ points }) {
  return Array.from({ length: points.length / 3 }, (_, k) => [points[3 * k], points[3 * k + 1], points[3 * k + 2]]);
}

/** Projectors: from the part to its view, where visible lines end; they grow with ``reach``, from 0 to 1. */
function raysOf(view, plane, corners) {
  const spot = (p) => p.map((n) => Math.round(n / SAME)).join();
  const nearest = new Map();
  for (const corner of corners) {
    const foot = plane.shift(corner);
    const key = spot(foot);
    const length = Math.hypot(...foot.map((n, k) => n - corner[k]));
    if (!nearest.has(key) || nearest.get(key).length > length) nearest.set(key, { corner, foot, length });
  }
  const wanted = new Map();
  for (const line of view.visible) {
    for (const end of [line[0], line[line.length - 1]]) {
      const key = spot(plane.place(end));
      if (nearest.has(key)) wanted.set(key, nearest.get(key));
    }
  }
  const strokes = new Strokes([...wanted.values()].map(({ corner, foot }) => [{ first: corner, last: foot }]));
  const meshes = [strokes.mesh(PENS.projector, 'before', ORDER.above)];
  const group = new Group();
  group.add(...meshes);
  const whole = [...wanted.values()];
  let reached = -1;
  return {
    group, meshes,
    reach(share) {
      if (share === reached) return;
      reached = share;
      const last = strokes.geometry.getAttribute('last');
      whole.forEach(({ corner, foot }, k) => last.array.set(corner.map((n, i) => n + (foot[i] - n) * share), 3 * k));
      last.needsUpdate = true;
    },
  };
}

/** Part mm to the plane of the front view after folding: (x, y, z) to [x, z]. */
export const flattened = ([x, , z]) => [x, z];

export const projectionOf = (camera, mesh) => new Matrix4().multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse)
  .multiply(mesh.matrixWorld);
