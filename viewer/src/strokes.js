// Lines of any width in screen pixels, dashed if asked: each segment a strip of two triangles that faces the reader.
import {
  DoubleSide, DynamicDrawUsage, GLSL3, GreaterDepth, InstancedBufferAttribute, InstancedBufferGeometry, BufferAttribute, LessEqualDepth, Mesh,
  NoBlending, NormalBlending, RawShaderMaterial, Sphere, Vector2, Vector3, Vector4,
} from 'three';

const VERTEX = `
precision highp float;
uniform mat4 modelViewMatrix, projectionMatrix;
uniform vec2 pixels;
uniform vec3 sight;
uniform float width, lift, capped;
in vec2 position;
in vec3 first, last, one, other;
in float before;
out float along;
const float EDGE_ON = 1e-4;
void main() {
  bool drawn = dot(one, one) < 0.5 || (dot(one, sight) > EDGE_ON) != (dot(other, sight) > EDGE_ON);
  vec4 a = projectionMatrix * modelViewMatrix * vec4(first, 1.0);
  vec4 b = projectionMatrix * modelViewMatrix * vec4(last, 1.0);
  vec2 run = (b.xy - a.xy) * pixels * 0.5;
  float reach = length(run);
  vec2 way = reach > 1e-4 ? run / reach : vec2(1.0, 0.0);
  vec2 off = vec2(-way.y, way.x) * position.y + way * (2.0 * position.x - 1.0) * capped;
  along = before + position.x * reach;
  gl_Position = mix(a, b, position.x);
  gl_Position.xy += off * width / pixels;
  gl_Position.z -= lift;
  if (!drawn) gl_Position = vec4(0.0, 0.0, 2.0, 1.0);
}`;

const FRAGMENT = `
precision highp float;
uniform vec4 ink, dashes;
in float along;
out vec4 colour;
void main() {
  float total = dashes.x + dashes.y + dashes.z + dashes.w;
  if (total > 0.0) {
    float at = mod(along, total);
    if ((at > dashes.x && at < dashes.x + dashes.y) || at > total - dashes.w) discard;
  }
  colour = ink;
}`;

const LIFT = 2e-4;          // of the picture's depth by which seen lines stand before the faces they lie on

/** Strips as instances: ``chains`` of {first, last, one?, other?}, points in mm; dashes run on along a chain. */
export class Strokes {
  constructor(chains) {
    this.chains = chains;
    const flat = chains.flat();
    const column = (size, value) => {
      const array = new Float32Array(flat.length * size);
      flat.forEach((piece, k) => array.set(value(piece), k * size));
      return new InstancedBufferAttribute(array, size);
    };
    this.geometry = new InstancedBufferGeometry();
    this.geometry.boundingSphere = new Sphere();      // nothing is left out for lying outside the picture, so it need not be true
    this.geometry.instanceCount = flat.length;
    this.geometry.setIndex([0, 1, 2, 2, 1, 3]);
    this.geometry.setAttribute('position', new BufferAttribute(new Float32Array([0, -1, 0, 1, 1, -1, 1, 1]), 2));
    const none = [0, 0, 0];
    for (const name of ['first', 'last', 'one', 'other']) this.geometry.setAttribute(name, column(3, (piece) => piece[name] || none));
    this.before = column(1, () => [0]).setUsage(DynamicDrawUsage);
    this.geometry.setAttribute('before', this.before);
  }

  /** Where each piece's dashes begin, pixels from its chain's start, as the eye sees it. ``matrix``: part to screen; ``pixels``. */
  measure(matrix, pixels) {
    const [p, q] = [new Vector3(), new Vector3()];
    let k = 0;
    for (const chain of this.chains) {
      let run = 0;
      for (const { first, last } of chain) {
        p.fromArray(first).applyMatrix4(matrix);
        q.fromArray(last).applyMatrix4(matrix);
        this.before.array[k] = run;
        run += Math.hypot((q.x - p.x) * pixels.x, (q.y - p.y) * pixels.y) / 2;
        k += 1;
      }
    }
    this.before.needsUpdate = true;
  }

  /** A mesh of these strokes. ``pen``: {width px, dashes px [4]}; ``depth``: what hides it: 'before' (seen), 'behind', 'none'. */
  mesh({ width, dashes = [0, 0, 0, 0] }, depth, order) {
    const dashed = dashes.some((length) => length > 0);
    const material = new RawShaderMaterial({
      vertexShader: VERTEX, fragmentShader: FRAGMENT, glslVersion: GLSL3, transparent: true, depthWrite: false, side: DoubleSide,
      depthTest: depth !== 'none', depthFunc: depth === 'behind' ? GreaterDepth : LessEqualDepth, blending: NormalBlending,
      uniforms: {
        pixels: { value: new Vector2(1, 1) }, sight: { value: new Vector3() }, width: { value: width }, capped: { value: dashed ? 0 : 1 },
        lift: { value: depth === 'before' ? LIFT : 0 }, ink: { value: new Vector4(0, 0, 0, 1) }, dashes: { value: new Vector4(...dashes) },
      },
    });
    const mesh = new Mesh(this.geometry, material);
    mesh.frustumCulled = false;
    mesh.renderOrder = order;
    mesh.userData = { strokes: this, width, dashes, dashed };
    return mesh;
  }
}

/** Before a frame: the size of the picture, the direction of sight, the colour [r, g, b] and how strong it is (0 to 1). */
export function readyStrokes(mesh, { pixels, ratio, sight, project }, colour, strength = 1) {
  const { uniforms } = mesh.material;
  const { strokes, width, dashes, dashed } = mesh.userData;
  mesh.visible = strength > 0;
  uniforms.pixels.value.copy(pixels);
  uniforms.sight.value.fromArray(sight);
  uniforms.width.value = width * ratio;
  uniforms.dashes.value.fromArray(dashes.map((length) => length * ratio));
  uniforms.ink.value.set(...colour, strength);
  mesh.material.blending = strength < 1 ? NormalBlending : NoBlending;
  if (dashed && mesh.visible) strokes.measure(project(mesh), pixels);
}
