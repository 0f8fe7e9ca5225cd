"use strict";
/* The self-check: lengths that were measured on the drawing. The right ones are hidden from a glance, not from a search. */
const check = (() => {
  const { say, put, tell, id } = made;

  /* Within so many mm is right: a pencil's line and a ruler's. */
  const NEAR = 1;

  const shown = (hidden, place) => ((hidden - 7919 * (place + 1)) / 3 - 101) / 100;

  const number = (text) => {
    const plain = text.trim().replace(",", ".").replace(/\s*mm$/i, "");
    return /^[0-9]+([.][0-9]*)?$/.test(plain) ? Number(plain) : NaN;
  };

  const form = (one, piece) => {
    const result = put("p", { "class": "result", role: "status" });
    const rows = piece.lengths.map(([where, hidden], place) => {
      const name = id("length"), told = id("told");
      const input = put("input", { id: name, type: "text", inputmode: "decimal", autocomplete: "off", "aria-describedby": told, size: "7" });
      const verdict = put("span", { id: told, "class": "verdict" });
      return { input, verdict, value: shown(hidden, place),
               row: put("li", {}, [put("label", { "for": name, text: where }), put("span", { "class": "entry" }, [input, " mm ", verdict])]) };
    });
    const judge = () => {
      let right = 0, given = 0;
      rows.forEach(({ input, verdict, value }) => {
        const said = number(input.value), fits = Math.abs(said - value) <= NEAR + 1e-9;
        const empty = !input.value.trim();
        given += empty ? 0 : 1;
        right += fits ? 1 : 0;
        input.setAttribute("aria-invalid", String(!empty && !fits));
        verdict.className = "verdict " + (empty ? "" : fits ? "right" : "off");
        verdict.textContent = empty ? "" : fits ? say("right") : isNaN(said) ? say("no_number") : say("off");
      });
      const text = given ? say("result", { right, count: rows.length }) : say("nothing_measured");
      result.textContent = text;
      tell(text);
      if (given) {
        const before = keep.of(one.code);
        keep.note(one.code, { right: Math.max(right, Number(before.right) || 0), checks: (Number(before.checks) || 0) + 1 });
      }
    };
    const made_ = put("form", { on: { submit: (event) => { event.preventDefault(); judge(); } } }, [
      put("p", { text: say("check_about") }), put("ol", { "class": "lengths" }, rows.map(({ row }) => row)),
      put("button", { type: "submit", text: say("check_go") }), result, put("p", { "class": "facts", text: say("check_hidden") })]);
    made_.setAttribute("novalidate", "");
    return made_;
  };

  return { form };
})();
