// Buttons with words, the picture's keys, and what a hand does on it.

const TURN = Math.PI / 18;          // radians a key or a button turns the part: a ninth of a right angle
const SWIPE = Math.PI / 360;        // radians a CSS pixel
const GROWN = 1.2;

function made(tag, attributes = {}, children = []) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  node.append(...children);
  return node;
}

const button = (word, pressed, act) => {
  const node = made('button', { type: 'button', ...(pressed === null ? {} : { 'aria-pressed': String(pressed) }) }, [word]);
  node.addEventListener('click', act);
  return node;
};

let count = 0;

/**
 * The viewer's own part of the page: {root, canvas, show(state)}. ``act``: what its buttons, keys and gestures do:
 * look(name), turn(round, up), grow(factor), slide(dx, dy) in CSS pixels, hide(on), unfold(on), fold(share), back().
 */
export function controlsOf(texts, description, sides, act) {
  count += 1;
  const canvas = made('canvas', {
    class: 'turn-picture', tabindex: '0', role: 'img', 'aria-label': description, 'aria-describedby': `turn-keys-${count}`,
  });
  const looks = ['pictorial', 'front', 'top', ...sides].map((name) => [name, button(texts[name], false, () => act.look(name))]);
  const hidden = button(texts.hidden, false, () => act.hide(hidden.getAttribute('aria-pressed') !== 'true'));
  const unfold = button(texts.unfold, false, () => act.unfold(unfold.getAttribute('aria-pressed') !== 'true'));
  const slider = made('input', { type: 'range', min: '0', max: '100', step: '1', value: '0' });
  slider.addEventListener('input', () => act.fold(Number(slider.value) / 100));
  const turns = [
    ['turn_left', () => act.turn(TURN, 0)], ['turn_right', () => act.turn(-TURN, 0)], ['turn_up', () => act.turn(0, -TURN)],
    ['turn_down', () => act.turn(0, TURN)], ['larger', () => act.grow(GROWN)], ['smaller', () => act.grow(1 / GROWN)],
    ['back', () => act.back()],
  ].map(([name, does]) => button(texts[name], null, does));
  const said = made('p', { role: 'status', class: 'turn-said' });
  const root = made('div', { class: 'turn' }, [
    made('div', { class: 'turn-row', role: 'group', 'aria-label': texts.look }, looks.map(([, node]) => node)),
    canvas,
    made('div', { class: 'turn-row' }, [
      hidden, unfold, made('label', { class: 'turn-folding' }, [made('span', {}, [texts.folding]), slider]),
    ]),
    made('details', { class: 'turn-more' }, [
      made('summary', {}, [texts.turning]),
      made('p', { class: 'turn-keys', id: `turn-keys-${count}` }, [texts.keys]),
      made('div', { class: 'turn-row', role: 'group', 'aria-label': texts.turning }, turns),
    ]),
    said,
  ]);
  keysOf(canvas, act);
  handsOf(canvas, act);
  let told = '';
  return {
    root,
    canvas,
    /** Tell what is shown: the view by name or '', hidden edges, how far unfolded; ``done``: nothing moves any more. */
    show({ view, hidden: on, share, unfolding, done }) {
      for (const [name, node] of looks) node.setAttribute('aria-pressed', String(name === view));
      hidden.setAttribute('aria-pressed', String(on));
      unfold.setAttribute('aria-pressed', String(unfolding));
      slider.value = String(Math.round(share * 100));
      if (share === 1) slider.setAttribute('aria-valuetext', texts.unfolded);
      else if (share === 0) slider.setAttribute('aria-valuetext', texts.boxed);
      else slider.removeAttribute('aria-valuetext');
      const tell = share === 1 ? texts.unfolded : share === 0 && view ? texts[view] : told;
      if (done && tell !== told) said.textContent = told = tell;
    },
  };
}

function keysOf(canvas, act) {
  const keys = {
    ArrowLeft: () => act.turn(TURN, 0), ArrowRight: () => act.turn(-TURN, 0), ArrowUp: () => act.turn(0, -TURN),
    ArrowDown: () => act.turn(0, TURN), '+': () => act.grow(GROWN), '=': () => act.grow(GROWN), '-': () => act.grow(1 / GROWN),
    Home: () => act.back(),
  };
  canvas.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !keys[event.key]) return;
    event.preventDefault();
    keys[event.key]();
  });
}

/** One finger, or the mouse, turns; two fingers pinch and push; the wheel is the page's own, unless Ctrl is held. */
function handsOf(canvas, act) {
  const down = new Map();
  const spread = () => {
    const [a, b] = [...down.values()];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, apart: Math.hypot(a.x - b.x, a.y - b.y) || 1 };
  };
  canvas.addEventListener('pointerdown', (event) => {
    if (event.button !== 0 || down.size === 2) return;
    canvas.setPointerCapture(event.pointerId);
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  canvas.addEventListener('pointermove', (event) => {
    const from = down.get(event.pointerId);
    if (!from) return;
    const to = { x: event.clientX, y: event.clientY };
    if (down.size === 1) {
      down.set(event.pointerId, to);
      if (event.shiftKey) act.slide(to.x - from.x, to.y - from.y);
      else act.turn((from.x - to.x) * SWIPE, (to.y - from.y) * SWIPE);
      return;
    }
    const before = spread();
    down.set(event.pointerId, to);
    const after = spread();
    act.grow(after.apart / before.apart);
    act.slide(after.x - before.x, after.y - before.y);
  });
  for (const name of ['pointerup', 'pointercancel', 'lostpointercapture']) {
    canvas.addEventListener(name, (event) => down.delete(event.pointerId));
  }
  canvas.addEventListener('wheel', (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    act.grow(Math.exp(-event.deltaY / 300));
  }, { passive: false });
}
