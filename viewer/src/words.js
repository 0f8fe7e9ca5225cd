// The words the page hands over; there are none of our own.

export const WORDS = [
  'keys', 'look', 'front', 'top', 'left', 'right', 'pictorial', 'hidden', 'unfold', 'folding', 'boxed', 'unfolded', 'turning',
  'turn_left', 'turn_right', 'turn_up', 'turn_down', 'larger', 'smaller', 'back',
];

/** Raises an error that names every word that is missing. */
export function checkWords(texts, description) {
  if (typeof description !== 'string' || !description) throw new Error('the viewer lacks the description of its picture');
  const missing = WORDS.filter((name) => typeof texts?.[name] !== 'string' || !texts[name]);
  if (missing.length) throw new Error(`the texts of the viewer lack ${missing.join(', ')}`);
}
