// The picture: part and planes of projection seen by an eye at no distance in particular (no perspective, as drawings have none).
import { OrthographicCamera, Scene, Vector2, WebGLRenderer } from 'three';
import { boxOf, projectionOf, stage, STAGES } from './box.js';
import { coloursOf } from './colours.js';
import { axesOf, extentOf } from './eye.js';
import { partOf } from './part.js';
import { widened } from './pens.js';

const MARGIN = 1.06;        // of the extents: what is kept free round them
const SHARPEST = 2;         // device pixels a CSS pixel: finer ones cost time and show nothing

export class Picture {
  constructor(canvas, solid, { angle, sides }) {
    this.canvas = canvas;
    this.solid = solid;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.setClearAlpha(0);                                    // the page's own paper shows through
    this.scene = new Scene();
    this.part = partOf(solid);
    this.box = boxOf(solid, angle, ['front', 'top', ...sides]);
    this.scene.add(this.part.group, this.box.group);
    this.camera = new OrthographicCamera();
    this.camera.matrixAutoUpdate = false;
    const [w, d, h] = solid.size;
    this.corners = [0, w].flatMap((x) => [0, d].flatMap((y) => [0, h].map((z) => [x, y, z])));
    this.recolour();
  }

  recolour() {
    this.colours = coloursOf(this.canvas);
  }

  /** Draw ``{eye, zoom, pan [mm], share (of the unfolding), hidden}``; mm that one CSS pixel shows is kept as ``grain``. */
  draw({ eye, zoom, pan, share, hidden }) {
    const { clientWidth: wide, clientHeight: high } = this.canvas;
    if (!wide || !high) return;
    const ratio = Math.min(window.devicePixelRatio || 1, SHARPEST);
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(wide, high, false);
    this.box.swung(share);
    this.look(eye, zoom, pan, share, wide / high);
    this.grain = (2 * this.camera.top) / high;
    const { toward } = axesOf(eye);
    const frame = {
      pixels: new Vector2(wide * ratio, high * ratio), ratio: ratio * widened(wide), sight: toward,
      project: (mesh) => projectionOf(this.camera, mesh),
    };
    this.scene.updateMatrixWorld();
    this.box.ready(frame, this.colours, share);
    this.part.ready(frame, this.colours, 1 - stage(share, ...STAGES.part), hidden);
    this.renderer.render(this.scene, this.camera);
  }

  /** Stand the camera so that all fits, from the part alone to the planes folded out. */
  look(eye, zoom, pan, share, shape) {
    const axes = axesOf(eye);
    const every = [...this.corners, ...this.box.corners()];
    const [alone, whole] = [extentOf(this.corners, axes), extentOf(every, axes)];
    const reach = Math.hypot(...this.solid.size) / 2;                  // the same from all sides: turning does not change the scale
    const grown = stage(share, ...STAGES.planes);
    const [u, v, half, rise] = [
      [alone.middle[0], whole.middle[0]], [alone.middle[1], whole.middle[1]], [reach, whole.half[0]], [reach, whole.half[1]],
    ].map(([one, other]) => one + (other - one) * grown);
    const top = (Math.max(rise, half / shape) * MARGIN) / zoom;
    const { right, upward, toward } = axes;
    const depth = extentOf(every, { right: toward, upward });
    const [x, y, near] = [u + pan[0], v + pan[1], depth.middle[0] + depth.half[0] + 1];
    const place = [0, 1, 2].map((k) => right[k] * x + upward[k] * y + toward[k] * near);
    const m = this.camera.matrix.elements;
    [...right, 0, ...upward, 0, ...toward, 0, ...place, 1].forEach((value, k) => { m[k] = value; });
    Object.assign(this.camera, { left: -top * shape, right: top * shape, top, bottom: -top, near: 0, far: 2 * depth.half[0] + 2 });
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld(true);
  }

  dispose() {
    this.scene.traverse(({ geometry, material }) => {
      geometry?.dispose();
      material?.dispose();
    });
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }
}
