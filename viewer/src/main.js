// window.sheetgenViewer: what a page needs to have a part turned. See ../README.md.
import { controlsOf } from './controls.js';
import { watchColours } from './colours.js';
import { between, eyeOf, held, same } from './eye.js';
import { flattened, stage, STAGES } from './box.js';
import { dress } from './look.js';
import { Picture } from './stage.js';
import { solidOf } from './record.js';
import { checkWords } from './words.js';

const TURNS_IN = 500;               // ms for the eye to reach a view
const UNFOLDS_IN = 6000;            // ms from the part alone to views in one plane
const BESIDE = { round: (35 * Math.PI) / 180, up: (24 * Math.PI) / 180 };   // where planes and part are seen best
const CLOSEST = 8;
const FARTHEST = 0.5;
const MOST = 6;                     // pictures at a time: browsers give a page about 16, and then take away the oldest

const open = [];
let able = null;

/** True where the browser draws solids; elsewhere a page keeps its pictures. */
function supported() {
  if (able === null) {
    try {
      const trial = document.createElement('canvas').getContext('webgl2');
      able = Boolean(trial);
      trial?.getExtension('WEBGL_lose_context')?.loseContext();
    } catch {
      able = false;
    }
  }
  return able;
}

class Viewer {
  constructor(element, record, options) {
    const { angle, side, texts, description, reducedMotion } = options;
    if (angle !== 'first' && angle !== 'third') throw new Error(`the angle is ${JSON.stringify(angle)}, not "first" or "third"`);
    if (!['left', 'right', 'both'].includes(side)) throw new Error(`the side is ${JSON.stringify(side)}, not "left", "right" or "both"`);
    checkWords(texts, description);
    const solid = solidOf(record);
    this.sides = side === 'both' ? ['left', 'right'] : [side];
    const missing = ['front', 'top', ...this.sides].filter((name) => !solid.views[name]);
    if (missing.length) throw new Error(`the record of the solid lacks the views ${missing.join(', ')}`);
    dress();
    Object.assign(this, { element, corner: solid.corner, closed: options.closed, names: ['pictorial', 'front', 'top', ...this.sides] });
    this.calm = () => reducedMotion ?? matchMedia('(prefers-reduced-motion: reduce)').matches;
    this.state = { eye: eyeOf('pictorial', this.corner), zoom: 1, pan: [0, 0], share: 0, hidden: false };
    this.goal = { eye: null, share: 0 };
    this.led = true;                // the eye goes with the unfolding, until the reader turns the part
    this.controls = controlsOf(texts, description, this.sides, this.acts());
    element.append(this.controls.root);
    try {
      this.picture = new Picture(this.controls.canvas, solid, { angle, sides: this.sides });
    } catch (error) {
      this.controls.root.remove();
      throw error;
    }
    const redraw = () => this.redraw();
    this.sized = new ResizeObserver(redraw);
    this.sized.observe(this.controls.canvas);
    this.controls.canvas.addEventListener('webglcontextrestored', redraw);
    this.unwatch = watchColours(() => { this.picture.recolour(); this.redraw(); });
    this.redraw();
  }

  acts() {
    return {
      look: (name) => this.view(name),
      turn: (round, up) => {
        const { eye } = this.state;
        this.takeOver();
        this.state.eye = held({ round: eye.round + round, up: eye.up + up });
        this.redraw();
      },
      grow: (factor) => {
        this.state.zoom = Math.min(CLOSEST, Math.max(FARTHEST, this.state.zoom * factor));
        this.redraw();
      },
      slide: (dx, dy) => {
        const { pan } = this.state;
        this.state.pan = [pan[0] - dx * this.picture.grain, pan[1] + dy * this.picture.grain];
        this.redraw();
      },
      hide: (on) => this.hidden(on),
      unfold: (on) => this.unfold(on),
      fold: (share) => this.fold(share),
      back: () => this.back(),
    };
  }

  /** The reader's hand: what moved by itself stops. */
  takeOver() {
    this.led = false;
    this.goal = { eye: null, share: this.state.share };
  }

  /** Where the eye goes with the unfolding: beside the box, then before the front plane. */
  leading(share) {
    const [sign] = this.sides[0] === 'left' ? [-1] : [1];
    const beside = { round: sign * BESIDE.round, up: BESIDE.up };
    return between(between(eyeOf('pictorial', this.corner), beside, stage(share, ...STAGES.planes)), eyeOf('front', this.corner),
      stage(share, ...STAGES.swing));
  }

  view(name) {
    if (!this.names.includes(name)) throw new Error(`the view ${JSON.stringify(name)} is none of ${this.names.join(', ')}`);
    const along = name === 'top' || this.sides.includes(name);      // planes that are folded out would be seen on edge
    this.led = false;
    this.goal = { eye: eyeOf(name, this.corner), share: along ? Math.min(this.state.share, STAGES.swing[0]) : this.state.share };
    this.state.pan = [0, 0];
    this.moveOn();
  }

  hidden(on) {
    this.state.hidden = Boolean(on);
    this.redraw();
  }

  unfold(on) {
    this.led = true;
    this.goal = { eye: null, share: on ? 1 : 0 };
    this.state.pan = [0, 0];
    this.moveOn();
  }

  /** Unfold as far as ``share``, from 0 to 1, at once. */
  fold(share) {
    if (!(share >= 0 && share <= 1)) throw new Error(`the share is ${share}, not from 0 to 1`);
    this.led = true;
    this.state.share = share;
    this.goal = { eye: null, share };
    this.moveOn();
  }

  back() {
    this.led = false;
    this.goal = { eye: eyeOf('pictorial', this.corner), share: this.state.share };
    Object.assign(this.state, { zoom: 1, pan: [0, 0] });
    this.moveOn();
  }

  /** Begin to move towards the goal, or be there at once where the reader wants no motion. */
  moveOn() {
    this.from = { eye: this.state.eye, at: performance.now(), last: performance.now() };
    this.redraw();
  }

  step(now) {
    const { state, goal, from } = this;
    const calm = this.calm();
    if (state.share !== goal.share) {
      const reach = calm ? 1 : (now - from.last) / UNFOLDS_IN;
      state.share = goal.share > state.share ? Math.min(goal.share, state.share + reach) : Math.max(goal.share, state.share - reach);
    }
    if (from) from.last = now;
    const aim = goal.eye ?? (this.led ? this.leading(state.share) : null);
    if (aim) {
      const come = calm || !from ? 1 : stage((now - from.at) / TURNS_IN, 0, 1);
      state.eye = held(come < 1 ? between(from.eye, aim, come) : aim);
      if (come === 1 && goal.eye) goal.eye = null;
      if (come < 1) return false;
    }
    return state.share === goal.share;
  }

  redraw() {
    if (!this.asked) this.asked = requestAnimationFrame((now) => this.frame(now));
  }

  frame(now) {
    this.asked = 0;
    if (this.gone) return;
    const done = this.step(now);
    this.picture.draw(this.state);
    const view = this.names.find((name) => same(eyeOf(name, this.corner), this.state.eye)) ?? '';
    this.controls.show({ view, hidden: this.state.hidden, share: this.state.share, unfolding: this.goal.share === 1, done });
    if (!done) this.redraw();
  }

  /** The lines of the views where they lie now, mm: {view, kind, points: [[across, up], …], off: mm from the front view's plane}. */
  lines() {
    this.picture.box.swung(this.state.share);
    const drawn = this.picture.box.lines();
    const level = drawn.find(({ view }) => view === 'front').points[0][1];
    return drawn.map(({ view, kind, points }) => ({
      view, kind, points: points.map(flattened), off: Math.max(...points.map((point) => Math.abs(point[1] - level))),
    }));
  }

  dispose() {
    if (this.gone) return;
    this.gone = true;
    cancelAnimationFrame(this.asked);
    this.sized.disconnect();
    this.unwatch();
    this.picture.dispose();
    this.controls.root.remove();
    open.splice(open.indexOf(this), 1);
    this.closed?.();
  }
}

/** Show a solid's record within ``element``; of many, the oldest closes. Raises an error that tells what is wrong with them. */
function show(element, record, options) {
  const viewer = new Viewer(element, record, options);
  open.push(viewer);
  if (open.length > MOST) open[0].dispose();
  const named = ['view', 'unfold', 'fold', 'hidden', 'lines', 'dispose'].map((name) => [name, (...words) => viewer[name](...words)]);
  return Object.freeze(Object.fromEntries(named));
}

window.sheetgenViewer = Object.freeze({ supported, show });
