// How the viewer's own part of the page looks: the page's letters and colours, a rule round each button.

const RULES = `
.turn { display: block; max-width: 60rem; }
.turn-picture { display: block; box-sizing: border-box; width: 100%; aspect-ratio: 4 / 3; max-height: 80vh; min-height: 12rem;
  border: 1px solid; border-color: color-mix(in srgb, currentColor 35%, transparent); cursor: grab; touch-action: none; }
.turn-picture:active { cursor: grabbing; }
.turn-row { display: flex; flex-wrap: wrap; gap: 0.5rem; margin: 0.5rem 0; align-items: center; }
.turn button { font: inherit; color: inherit; background: transparent; border: 1px solid currentColor; border-radius: 0; margin: 0;
  padding: 0.4rem 0.8rem; min-height: 2.75rem; cursor: pointer; text-align: center; }
.turn button[aria-pressed="true"] { text-decoration: underline; text-underline-offset: 0.25em; text-decoration-thickness: 0.15em;
  box-shadow: inset 0 0 0 2px currentColor; }
.turn button:hover { box-shadow: inset 0 0 0 2px currentColor; }
.turn :is(button, canvas, input, summary):focus-visible { outline: 3px solid currentColor; outline-offset: 2px; }
.turn-folding { display: flex; flex-wrap: wrap; gap: 0.25rem 0.75rem; align-items: center; flex: 1 1 14rem; }
.turn-folding input { flex: 1 1 8rem; min-height: 2.75rem; margin: 0; appearance: none;
  background: transparent; color: inherit; cursor: pointer; }
.turn-folding input::-webkit-slider-runnable-track { height: 2px; background: currentColor; }
.turn-folding input::-moz-range-track { height: 2px; background: currentColor; }
.turn-folding input::-webkit-slider-thumb { appearance: none; width: 0.75rem; height: 1.5rem; margin-top: calc(1px - 0.75rem);
  background: currentColor; border: 0; }
.turn-folding input::-moz-range-thumb { width: 0.75rem; height: 1.5rem; background: currentColor; border: 0; border-radius: 0; }
.turn-more summary { padding: 0.6rem 0; cursor: pointer; }
.turn-keys { margin: 0.25rem 0; }
.turn-said { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; margin: 0; }
@media (max-width: 30rem) { .turn-picture { aspect-ratio: 1; } }
@media print { .turn { display: none; } }
`;

/** Put the rules into the page, once. */
export function dress() {
  if (document.getElementById('turn-look')) return;
  const sheet = document.createElement('style');
  sheet.id = 'turn-look';
  sheet.textContent = RULES;
  document.head.append(sheet);
}
