// The solid itself: faces in a few tones of the paper, edges over them, hidden edges under them.
import { BufferAttribute, BufferGeometry, DoubleSide, GLSL3, Group, Mesh, RawShaderMaterial, Vector3, Vector4 } from 'three';
import { cornerOf, edgesOf, normalsOf } from './edges.js';
import { readyStrokes, Strokes } from './strokes.js';
import { ORDER, PENS } from './pens.js';

const VERTEX = `
precision highp float;
uniform mat4 modelViewMatrix, projectionMatrix;
uniform mat3 normalMatrix;
in vec3 position, normal;
out vec3 outward;
void main() {
  outward = normalMatrix * normal;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`;

const FRAGMENT = `
precision highp float;
uniform vec4 lit, shaded;
uniform vec3 light;
in vec3 outward;
out vec4 colour;
void main() {
  colour = mix(shaded, lit, clamp(0.5 + 0.5 * dot(normalize(outward), light), 0.0, 1.0));
}`;

/** The part as {group, ready(frame, colours, strength, hidden)}. */
export function partOf(solid) {
  const { facets, corners } = normalsOf(solid);
  const { sharp, limbs } = edgesOf(solid, facets);
  const at = (v) => cornerOf(solid.points, v);
  const plain = ({ a, b }) => ({ first: at(a), last: at(b) });
  const strokes = new Strokes([
    ...sharp.map((chain) => chain.map(plain)),
    ...limbs.map((edge) => [{ ...plain(edge), one: edge.one, other: edge.other }]),
  ]);
  const faces = facesOf(solid, corners);
  const seen = strokes.mesh(PENS.visible, 'before', ORDER.edges);
  const unseen = strokes.mesh(PENS.hidden, 'behind', ORDER.hidden);
  const group = new Group();
  group.add(faces, seen, unseen);
  return {
    group,
    ready(frame, { ink, lit, shaded }, strength, hidden) {
      const { lit: bright, shaded: dim } = faces.material.uniforms;
      bright.value.set(...lit, strength);
      dim.value.set(...shaded, strength);
      faces.material.polygonOffsetFactor = 1 + PENS.visible.width * frame.ratio;
      group.visible = strength > 0;
      readyStrokes(seen, frame, ink, strength);
      readyStrokes(unseen, frame, ink, hidden ? strength : 0);
    },
  };
}

function facesOf({ points, triangles }, normals) {
  const places = new Float32Array(3 * triangles.length);
  triangles.forEach((v, k) => places.set(cornerOf(points, v), 3 * k));
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(places, 3));
  geometry.setAttribute('normal', new BufferAttribute(normals, 3));
  const faces = new Mesh(geometry, new RawShaderMaterial({
    vertexShader: VERTEX, fragmentShader: FRAGMENT, glslVersion: GLSL3, transparent: true, side: DoubleSide,
    polygonOffset: true, polygonOffsetFactor: 3, polygonOffsetUnits: 2,
    uniforms: {
      lit: { value: new Vector4() }, shaded: { value: new Vector4() }, light: { value: new Vector3(-0.42, 0.72, 0.55).normalize() },
    },
  }));
  faces.frustumCulled = false;
  faces.renderOrder = ORDER.faces;
  return faces;
}
