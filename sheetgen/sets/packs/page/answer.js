"use strict";
/* The answer, behind two deliberate steps. */
const answer = (() => {
  const { say, put, button } = made;

  const gate = (one, make) => {
    const place = put("div", { "class": "gate" });

    const shut = (focused) => {
      const first = button(say("answer_show"), ask);
      place.replaceChildren(put("p", { text: say("answer_about") }), first);
      if (focused) { first.focus(); }
    };
    const ask = () => {
      const no = button(say("answer_no"), () => shut(true));
      place.replaceChildren(put("p", { text: say("answer_sure") }),
        put("p", { "class": "tools" }, [no, button(say("answer_yes"), open, { "class": "plain" })]));
      no.focus();
    };
    const open = () => {
      keep.note(one.code, { answer: 1 });
      const hide = button(say("answer_hide"), () => shut(true));
      place.replaceChildren(put("p", { "class": "tools" }, [hide]), ...make());
      hide.focus();
    };

    shut(false);
    return place;
  };

  return { gate };
})();
