"use strict";
/* A construction, stage by stage: a strip to step through. What a stage adds stands out from what was there before. */
const steps = (() => {
  const { say, put, button } = made;

  const strip = (pack, one, piece, look) => {
    const count = piece.stages.length, place = put("div", { "class": "strip" });
    const open = button(say("construction_show"), () => {
      keep.note(one.code, { stages: 1 });
      place.replaceChildren(...opened());
      place.querySelector("[aria-current]").focus();
    });

    const opened = () => {
      let at = 0;
      const layers = () => {
        const done = at === count - 1, lines = piece.stages.slice(0, at + 1).map(
          ([picture], number) => [picture, number === at || done ? "new" : "before"]);
        const thin = piece.stages[at][3];
        return thin ? [[thin, "thin"], ...lines] : lines;
      };
      const picture = look.framed(say("construction"), layers);
      const said = put("div", { "class": "sentences", "aria-live": "polite" });
      const numbers = piece.stages.map((stage, number) => button(String(number + 1), () => go(number), {
        "aria-label": say("stage", { number: number + 1, count }) }));
      const back = button(say("stage_previous"), () => go(at - 1)), forth = button(say("stage_next"), () => go(at + 1));
      const go = (number) => {
        at = Math.min(count - 1, Math.max(0, number));
        numbers.forEach((one_, other) => {
          if (other === at) { one_.setAttribute("aria-current", "step"); } else { one_.removeAttribute("aria-current"); }
        });
        strip_.scrollLeft = numbers[at].offsetLeft - (strip_.clientWidth - numbers[at].offsetWidth) / 2;
        back.disabled = at === 0;
        forth.disabled = at === count - 1;
        const [, heading, sentences] = piece.stages[at];
        said.replaceChildren(put("h4", { text: heading || say("stage", { number: at + 1, count }) }),
          ...sentences.map((text) => put("p", { text })));
        picture.paint();
        keep.note(one.code, { stages: Math.max(at + 1, Number(keep.of(one.code).stages) || 0) });
      };
      const strip_ = put("div", { "class": "numbers" }, numbers);
      const row = put("div", { "class": "steps", role: "group", "aria-label": say("construction") }, [back, strip_, forth]);
      row.addEventListener("keydown", (event) => {
        const step = { ArrowLeft: -1, ArrowRight: 1, Home: -count, End: count }[event.key];
        if (step) {
          event.preventDefault();
          go(at + step);
          numbers[at].focus();
        }
      });
      go(0);
      return [row, said, picture.element];
    };

    place.append(open);
    return place;
  };

  return { strip };
})();
