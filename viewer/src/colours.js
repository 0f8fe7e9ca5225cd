// The colours of the page the viewer stands on: its ink and its paper, light or dark, whatever the reader has set.

const CLEAR = /rgba?\(([\d.]+)[ ,]+([\d.]+)[ ,]+([\d.]+)(?:[ ,/]+([\d.]+))?\)/;

function read(text) {
  const found = CLEAR.exec(text);
  return found ? { rgb: found.slice(1, 4).map((n) => Number(n) / 255), solid: found[4] === undefined || Number(found[4]) > 0.5 } : null;
}

const mixed = (one, other, share) => one.map((n, k) => n + (other[k] - n) * share);
const bright = ([r, g, b]) => 0.3 * r + 0.6 * g + 0.1 * b;

/** {ink, paper, lit, shaded, pane, border}, each [r, g, b] from 0 to 1; as they are on ``element``. */
export function coloursOf(element) {
  const ink = (read(getComputedStyle(element).color) || { rgb: [0, 0, 0] }).rgb;
  let paper = bright(ink) > 0.5 ? [0, 0, 0] : [1, 1, 1];
  for (let at = element; at; at = at.parentElement) {
    const found = read(getComputedStyle(at).backgroundColor);
    if (found && found.solid) {
      paper = found.rgb;
      break;
    }
  }
  const dark = bright(paper) < bright(ink);
  return {
    ink, paper, lit: mixed(paper, ink, dark ? 0.3 : 0.02), shaded: mixed(paper, ink, dark ? 0.04 : 0.42), pane: ink,
    border: mixed(paper, ink, 0.5),
  };
}

/** Call ``changed`` when the page may have changed its colours; returns what ends that. */
export function watchColours(changed) {
  const asked = ['(prefers-color-scheme: dark)', '(forced-colors: active)', '(prefers-contrast: more)'].map((q) => matchMedia(q));
  asked.forEach((query) => query.addEventListener('change', changed));
  const watch = new MutationObserver(changed);
  [document.documentElement, document.body].forEach((node) => watch.observe(node, { attributes: true }));
  return () => {
    asked.forEach((query) => query.removeEventListener('change', changed));
    watch.disconnect();
  };
}
