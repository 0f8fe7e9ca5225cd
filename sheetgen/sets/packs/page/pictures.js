"use strict";
/* Pictures of sheets, to be made larger, seen whole and printed; their description stands beside them. */
const pictures = (() => {
  const { say, put, button, tell, id } = made;
  const ZOOMS = [1, 1.5, 2, 3, 4.5];
  const OUTLINE = 2;                                                // points of the screen to a mm at which outlines are one point wide

  /* A picture in a frame that scrolls, and its tools. drawing(): the drawing alone, under(): what else is on its sheet; box: where
     the drawing stands, in mm. */
  const framed = (sheet, label, describedBy, drawing, under, box) => {
    const painter = marks.painter(sheet), whole = [0, 0, sheet.width, sheet.height];
    let zoom = 0, all = false;
    const image = put("div", { role: "img", "aria-label": label, "aria-describedby": describedBy, "class": "sheet" });
    const frame = put("div", { "class": "frame", tabindex: "0", role: "group", "aria-label": say("scroll", { picture: label }) }, [image]);
    const fit = () => {
      const wide = image.clientWidth, shown = all ? whole : box, slim = (shown[2] - shown[0]) / (shown[3] - shown[1]);
      image.style.setProperty("width", "calc(" + ZOOMS[zoom] + " * min(100%, " + (75 * slim).toFixed(2) + "vh))");
      larger.disabled = zoom === ZOOMS.length - 1;
      smaller.disabled = zoom === 0;
      const grown = wide ? image.clientWidth / wide : 1;            // what stood in the middle stays there
      frame.scrollLeft = (frame.scrollLeft + frame.clientWidth / 2) * grown - frame.clientWidth / 2;
      frame.scrollTop = (frame.scrollTop + frame.clientHeight / 2) * grown - frame.clientHeight / 2;
      thicken();
    };
    /* Where a millimetre is so small that outlines would be less than a point of the screen wide, all pens grow alike. */
    const thicken = () => {
      const shown = all ? whole : box, point = image.clientWidth / (shown[2] - shown[0]);
      image.style.setProperty("--grow", point > 0 ? Math.max(1, OUTLINE / point).toFixed(3) : "1");
    };
    const layers = () => [...under(), ...drawing()];
    const paint = () => image.replaceChildren(painter.draw(all ? layers() : drawing(), sheet.height, all ? whole : box));
    const step = (by) => () => {
      zoom = Math.min(ZOOMS.length - 1, Math.max(0, zoom + by));
      fit();
      tell(say("zoomed", { percent: Math.round(100 * ZOOMS[zoom]) }));
    };
    const larger = button(say("larger"), step(1));
    const smaller = button(say("smaller"), step(-1));
    const turn = button(say("whole_sheet"), () => {
      all = !all;
      turn.setAttribute("aria-pressed", String(all));
      paint();
      fit();
    }, { "aria-pressed": "false" });
    const print = button(say("print_sheet"), () => printed(painter.draw(layers(), sheet.height, whole), sheet));
    paint();
    fit();
    new ResizeObserver(thicken).observe(frame);
    return { element: put("div", { "class": "picture" }, [frame, put("p", { "class": "tools" }, [larger, smaller, turn, print])]), paint };
  };

  /* Prints one sheet alone, at true size. */
  const printed = (svg, sheet) => {
    svg.setAttribute("width", sheet.width + "mm");
    svg.setAttribute("height", sheet.height + "mm");
    const place = document.getElementById("printed");
    place.replaceChildren(svg);
    document.body.classList.add("printing");
    const after = () => {
      document.body.classList.remove("printing");
      place.replaceChildren();
      window.removeEventListener("afterprint", after);
    };
    window.addEventListener("afterprint", after);
    window.print();
  };

  /* What the pictures of a problem are made of. */
  const of = (pack, sheet, one, piece) => {
    const words = id("words");
    const given = () => [[sheet.sheet, ""], [piece.common, ""]];
    const label = (role, number, count) => say("picture", { what: say(role), title: one.title })
      + (count > 1 ? " " + say("page", { number: number + 1, count }) : "");
    return {
      words: () => put("details", {}, [put("summary", { text: say("in_words") }), put("p", { id: words, text: piece.description })]),
      task: () => (piece.task.length ? put("div", { "class": "task" }, piece.task.map((text) => put("p", { text }))) : null),
      pages: (role) => (piece.pages[role] || []).map((page, number, all) => framed(
        sheet, label(role, number, all.length), words, () => [[page.drawing, ""]], () => [...given(), [page.rest, ""]], page.box).element),
      framed: (text, drawing) => framed(sheet, text, words, drawing, () => [...given(), [piece.blank, ""]], piece.stages_box),
    };
  };

  return { of };
})();
