"use strict";
/* One problem: its question as a picture, and what helps, each only when it is asked for. */
const problem = (() => {
  const { say, put, button, tell, id } = made;
  let pack = null, shown = null;

  const section = (name, title, children) => {
    const heading = id(name);
    return put("section", { "class": name, "aria-labelledby": heading }, [put("h3", { id: heading, text: title }), ...children]);
  };

  const bookLink = (one, role) => {
    const place = one.pages[role];
    if (!place || !pack.books.length) { return null; }
    const book = pack.books[place[0]];
    return put("a", { href: book.file + "#page=" + place[1], text: say("pdf", { book: book.title, page: place[1] }) });
  };

  const pdfs = (one, role) => {
    const link = bookLink(one, role);
    return link ? put("p", { "class": "pdf" }, [link]) : null;
  };

  const hintsOf = (one, piece) => {
    const shown = put("ol", { "class": "hints" });
    const count = piece.hints.length;
    const more = button("", () => add(true));
    const label = () => {
      more.textContent = say("hint_next", { number: shown.children.length + 1, count });
      more.hidden = shown.children.length === count;
    };
    const add = (asked) => {
      const number = shown.children.length;
      const item = put("li", { tabindex: "-1" }, piece.hints[number].map((text) => put("p", { text })));
      shown.append(item);
      label();
      if (asked) {
        item.focus();
        keep.note(one.code, { hints: Math.max(shown.children.length, keep.of(one.code).hints || 0) });
      }
    };
    label();
    for (let left = Math.min(count, Number(keep.of(one.code).hints) || 0); left > 0; left -= 1) { add(false); }
    return section("hint", say("hints"), [shown, more, pdfs(one, "hints")]);
  };

  const partOf = (one, piece) => {
    const place = put("div", { "class": "solid" });
    const failed = () => { place.replaceChildren(put("p", { text: say("turn_failed") })); };
    const turn = button(say("turn"), async () => {
      turn.disabled = true;
      place.replaceChildren(put("p", { text: say("loading") }));
      try {
        const [solid] = await Promise.all([pieces.need("solid-" + one.number), pieces.run("viewer")]);
        if (!window.sheetgenViewer || !window.sheetgenViewer.supported()) {
          failed();
          return;
        }
        place.replaceChildren();
        shown = window.sheetgenViewer.show(place, solid, Object.assign({ description: piece.description }, pack.viewer));
        turn.hidden = true;
        keep.note(one.code, { turned: 1 });
      } catch (error) {
        turn.disabled = false;
        failed();
      }
    });
    return section("part", say("part"), [put("p", { text: say("turn_about") }), turn, place]);
  };

  const doneBox = (one) => {
    const name = id("done");
    const box = put("input", { type: "checkbox", id: name, on: { change: () => keep.note(one.code, { done: box.checked ? 1 : 0 }) } });
    box.checked = Boolean(keep.of(one.code).done);
    return put("p", { "class": "finish" }, [box, put("label", { "for": name, text: say("done") })]);
  };

  const ways = (one) => {
    const near = (step) => {
      const other = pack.problems[one.number - 1 + step];
      return other ? put("a", { href: "#" + other.number, text: say(step < 0 ? "previous" : "next"), rel: step < 0 ? "prev" : "next" }) : null;
    };
    return put("nav", { "aria-label": say("ways") }, [put("a", { href: "#list", text: say("all_problems") }), near(-1), near(1)]);
  };

  const facts = (one) => put("p", { "class": "facts", text: [
    pack.rungs.find((rung) => rung.number === one.rung).title, one.topics.map((topic) => pack.topics[topic]).join(", "),
    pack.kinds.length > 1 ? pack.kinds[one.kind] : "", say("code", { code: one.code })].filter(Boolean).join(" · ") });

  /* Shows a problem in a place; what it needs is loaded first. */
  const show = async (known, one, place) => {
    pack = known;
    leave();
    const title = put("h2", { tabindex: "-1", text: say("numbered", one) });
    place.replaceChildren(ways(one), title, facts(one), put("p", { "class": "loading", text: say("loading") }));
    document.title = say("numbered", one) + " – " + pack.title;
    title.focus();
    let piece, sheet;
    try {
      [piece, sheet] = await Promise.all([pieces.need("problem-" + one.number), pieces.need("sheet")]);
    } catch (error) {
      place.querySelector(".loading").textContent = say("failed");
      return;
    }
    if (place.contains(title)) { fill(place, one, piece, sheet); }
  };

  const fill = (place, one, piece, sheet) => {
    const look = pictures.of(pack, sheet, one, piece);
    place.querySelector(".loading").remove();
    place.append(
      section("question", say("question"), [put("div", { "class": "asked" }, [look.task(), ...look.pages("question")]), look.words(), pdfs(one, "question")]),
      ...[
        piece.solid ? partOf(one, piece) : null,
        piece.hints.length ? hintsOf(one, piece) : null,
        piece.stages.length ? section("construction", say("construction"), [steps.strip(pack, one, piece, look), pdfs(one, "construction")]) : null,
        piece.lengths.length ? section("check", say("check"), [check.form(one, piece)]) : null,
      ].filter(Boolean),
      section("answer", say("answer"), [answer.gate(one, () => [...look.pages("answer"), pdfs(one, "answer")].filter(Boolean))]),
      doneBox(one), ways(one));
    tell(say("ready", one));
  };

  /* What draws on goes with its problem. */
  const leave = () => {
    if (shown) { shown.dispose(); }
    shown = null;
  };

  return { show, leave };
})();
