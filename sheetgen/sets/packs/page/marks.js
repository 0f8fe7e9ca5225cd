"use strict";
/* Draws compact marks (sheetgen/ink/compact.py tells how they are written) as SVG. Millimetres, y up, as on the sheet. */
const marks = (() => {
  const SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const VALUES = new Map([...SIGNS].map((sign, value) => [sign, value]));
  const NAMESPACE = "http://www.w3.org/2000/svg";
  const ENDS = ["butt", "round", "square"];
  const CORNERS = ["miter", "round", "bevel"];
  const FINE = 10000;
  const STROKE = 0, FILL = 1, TEXT = 2, SHAPE = 3;

  const element = (name, attributes) => {
    const made = document.createElementNS(NAMESPACE, name);
    for (const key of Object.keys(attributes)) { made.setAttribute(key, attributes[key]); }
    return made;
  };

  /* Reads whole numbers from their signs, one after another. */
  const reader = (text) => {
    let at = 0;
    const next = () => {
      let number = 0, weight = 1, value;
      do {
        value = VALUES.get(text[at]);
        if (value === undefined) { throw new Error("no picture"); }
        at += 1;
        number += (value & 31) * weight;
        weight *= 32;
      } while (value > 31);
      return number;
    };
    const signed = () => {
      const number = next();
      return number % 2 ? -(number + 1) / 2 : number / 2;
    };
    return { next, signed, more: () => at < text.length };
  };

  const short = (value) => String(Math.round(value * 1000) / 1000);

  const pathOf = (points, curved, closed) => {
    const rows = points.map((point) => short(point[0]) + " " + short(point[1]));
    return "M" + rows[0] + (rows.length > 1 ? (curved ? "C" : "L") + rows.slice(1).join(" ") : "") + (closed ? "Z" : "");
  };

  const area = (points) => points.reduce((sum, point, number) => {
    const after = points[(number + 1) % points.length];
    return sum + point[0] * after[1] - after[0] * point[1];
  }, 0);

  /* The contours of one letter, of points on the line and controls of quadratic curves. */
  const contourPath = (contour, place) => {
    const count = contour.length;
    const middle = (a, b) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, 1];
    const points = [];
    contour.forEach((point, number) => {
      const before = contour[(number + count - 1) % count];
      if (!point[2] && !before[2]) { points.push(middle(before, point)); }
      points.push(point);
    });
    const first = points.findIndex((point) => point[2]);
    const turned = points.slice(first).concat(points.slice(0, first + 1));
    let path = "M" + place(turned[0]);
    for (let number = 1; number < turned.length; number += 1) {
      if (turned[number][2]) {
        path += "L" + place(turned[number]);
      } else {
        path += "Q" + place(turned[number]) + " " + place(turned[number + 1]);
        number += 1;
      }
    }
    return path + "Z";
  };

  /* A painter of pictures, with the letters and the pens of a pack. */
  const painter = (sheet) => {
    const letters = sheet.letters.map(() => new Map());

    const letter = (face, sign) => {
      const known = letters[face];
      if (!known.has(sign)) {
        const numbers = reader(sheet.letters[face].signs[sign] || "");
        const wide = numbers.more() ? numbers.next() : 0;
        const contours = [];
        let x = 0, y = 0;
        while (numbers.more()) {
          const contour = [];
          for (let left = numbers.next(); left > 0; left -= 1) {
            const both = numbers.next(), folded = Math.floor(both / 2);
            x += folded % 2 ? -(folded + 1) / 2 : folded / 2;
            y += numbers.signed();
            contour.push([x, y, both % 2]);
          }
          contours.push(contour);
        }
        known.set(sign, { wide, contours });
      }
      return known.get(sign);
    };

    const textPath = (text, at, face, height, along, up) => {
      const of = sheet.letters[face], em = height / of.capitals, unit = em * 1000 / of.units;
      let start = 0, path = "";
      for (const sign of text) {
        const { wide, contours } = letter(face, sign), before = start;
        const place = (point) => {
          const right = before + point[0] * unit, high = point[1] * unit;
          return short(at[0] + right * along[0] + high * up[0]) + " " + short(at[1] + right * along[1] + high * up[1]);
        };
        for (const contour of contours) { path += contourPath(contour, place); }
        start += wide * em;
      }
      return path;
    };

    /* The marks of a picture as SVG elements, put into a group. */
    const paint = (picture, group, pen) => {
      const lines = picture.split("\n"), numbers = reader(lines[0]);
      let line = 1, x = 0, y = 0;
      const points = (count) => {
        const found = [];
        for (let left = count; left > 0; left -= 1) {
          x += numbers.signed();
          y += numbers.signed();
          found.push([x / 100, y / 100]);
        }
        return found;
      };
      const colour = () => {
        if (!numbers.next()) { return "none"; }
        return "rgb(" + [numbers.next(), numbers.next(), numbers.next()].join(",") + ")";
      };
      const times = (make) => {
        let path = "";
        for (let left = numbers.next(); left > 0; left -= 1) { path += make(); }
        return path;
      };
      const strokes = () => {
        const nib = sheet.pens[numbers.next()], flags = numbers.next(), dashes = [];
        for (let left = numbers.next(); left > 0; left -= 1) { dashes.push(numbers.next() / FINE); }
        const look = { fill: "none", stroke: "currentColor", "stroke-width": nib[0], "stroke-linecap": ENDS[nib[1]],
                       "stroke-linejoin": CORNERS[nib[2]] };
        if (pen) { look["stroke-width"] = pen; }
        if (dashes.length) {
          look["stroke-dasharray"] = dashes.join(" ");
          look["stroke-dashoffset"] = numbers.next() / FINE;
        }
        const count = numbers.next();
        look.d = times(() => pathOf(points(count), flags & 1, flags & 2));
        const path = element("path", look);
        path.style.setProperty("--pen", look["stroke-width"] + "px");
        group.append(path);
      };
      const fills = () => {
        const shade = numbers.next(), count = numbers.next(), tone = Math.round(255 * shade / FINE);
        const d = times(() => {
          const polygon = points(count);
          return pathOf(area(polygon) < 0 ? polygon.reverse() : polygon, false, true);
        });
        group.append(element("path", { d, fill: shade ? "rgb(" + [tone, tone, tone].join(",") + ")" : "currentColor" }));
      };
      const texts = () => {
        const face = numbers.next(), height = numbers.next() / FINE, turned = [];
        for (let left = numbers.next(); left > 0; left -= 1) { turned.push(numbers.signed() / 1000000); }
        const along = turned.length ? turned.slice(0, 2) : [1, 0], up = turned.length ? turned.slice(2) : [0, 1];
        const d = times(() => {
          const [at] = points(1), text = lines[line];
          line += 1;
          return textPath(text, at, face, height, along, up);
        });
        group.append(element("path", { d, fill: "currentColor" }));
      };
      const shapes = () => {
        const look = { "fill-rule": numbers.next() ? "evenodd" : "nonzero", fill: colour(), stroke: colour() };
        if (look.stroke !== "none") {
          look["stroke-width"] = numbers.next() / FINE;
          look["stroke-linecap"] = ENDS[numbers.next()];
          look["stroke-linejoin"] = CORNERS[numbers.next()];
        }
        for (let left = numbers.next(); left > 0; left -= 1) {
          const runs = [];
          for (let runsLeft = numbers.next(); runsLeft > 0; runsLeft -= 1) { runs.push([numbers.next(), numbers.next()]); }
          const d = runs.map((run) => pathOf(points(run[0]), true, run[1])).join("");
          group.append(element("path", Object.assign({ d }, look)));
        }
      };
      const pictures = () => {
        for (let left = numbers.next(); left > 0; left -= 1) {
          const [low, high] = points(2);
          group.append(element("image", {
            x: low[0], y: -high[1], width: high[0] - low[0], height: high[1] - low[1], preserveAspectRatio: "none",
            transform: "scale(1 -1)", href: "data:image/png;base64," + lines[line],
          }));
          line += 1;
        }
      };
      while (numbers.more()) {
        const sort = numbers.next();
        (sort === STROKE ? strokes : sort === FILL ? fills : sort === TEXT ? texts : sort === SHAPE ? shapes : pictures)();
      }
      return group;
    };

    /* An SVG picture of layers, each [picture, class]; box: the part of the paper that it shows, x0, y0, x1, y1 in mm. */
    const draw = (layers, height, box) => {
      const svg = element("svg", { viewBox: [box[0], height - box[3], box[2] - box[0], box[3] - box[1]].join(" "),
                                   "aria-hidden": "true", focusable: "false" });
      const turned = element("g", { transform: "translate(0 " + height + ") scale(1 -1)" });
      for (const [picture, name, pen] of layers) {
        const group = element("g", name ? { "class": name } : {});
        turned.append(paint(picture, group, pen));
      }
      svg.append(turned);
      return svg;
    };

    return { draw };
  };

  return { painter };
})();
