// Widths and dashes in CSS pixels of a picture 500 wide, after the pens of the sheets: outlines twice as wide as all other lines.

export const PENS = {
  visible: { width: 2.2 },
  hidden: { width: 1.1, dashes: [6, 3, 6, 3] },
  centre: { width: 1.1, dashes: [16, 3, 2, 3] },
  border: { width: 1.1 },
  projector: { width: 0.8 },
};

/** How much wider or narrower lines are in a picture so wide: less than the picture, so that they stay lines. */
export const widened = (wide) => Math.min(1.2, Math.max(0.7, Math.sqrt(wide / 500)));

// What is drawn in which order: the planes and all on them first, then the part, then once more what lies before the part.
export const ORDER = { panes: 0, beneath: 1, faces: 2, hidden: 3, edges: 4, above: 5 };
