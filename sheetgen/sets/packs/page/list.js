"use strict";
/* The list of problems: filters, search, and small pictures that are loaded as they come into sight. */
const list = (() => {
  const { say, put, button } = made;
  let pack = null, cards = [], seen = null;

  const folded = (text) => text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "");

  const field = (name, options) => {
    const select = put("select", { id: "choose-" + name, name, on: { change: show } });
    select.append(put("option", { value: "", text: say("any") }));
    options.forEach(([value, text]) => select.append(put("option", { value, text })));
    return put("p", { "class": "field" }, [put("label", { "for": "choose-" + name, text: say(name) }), select]);
  };

  const filters = (form) => {
    const count = (list) => new Set(list).size;
    const search = put("input", { id: "choose-search", type: "search", autocomplete: "off", on: { input: show } });
    form.append(put("p", { "class": "field wide" }, [put("label", { "for": "choose-search", text: say("search") }), search]));
    if (pack.topics.length > 1) { form.append(field("topic", pack.topics.map((topic, number) => [number, topic]))); }
    const rungs = pack.rungs.map((rung) => [rung.number, rung.title]);
    if (rungs.length > 1) { form.append(field("rung", rungs)); }
    if (count(pack.problems.map((problem) => problem.kind)) > 1) {
      form.append(field("kind", pack.kinds.map((kind, number) => [number, kind])));
    }
    form.append(field("state", ["new", "begun", "done"].map((state) => [state, say("state_" + state)])));
    form.append(button(say("clear"), clear, { id: "choose-clear", hidden: true }));
    form.addEventListener("submit", (event) => event.preventDefault());
  };

  const clear = () => {
    document.querySelectorAll("#choose input, #choose select").forEach((field) => { field.value = ""; });
    show();
    document.getElementById("choose-search").focus();
  };

  const chosen = (name) => {
    const found = document.getElementById("choose-" + name);
    return found ? found.value : "";
  };

  const fits = (problem, words) => {
    const topic = chosen("topic"), rung = chosen("rung"), kind = chosen("kind"), state = chosen("state");
    return (!topic || problem.topics.includes(Number(topic))) && (!rung || problem.rung === Number(rung))
      && (!kind || problem.kind === Number(kind)) && (!state || keep.stage(problem.code) === state)
      && words.every((word) => problem.searched.includes(word));
  };

  /* Shows the cards that fit, and says how many. */
  function show() {
    const search = chosen("search"), words = folded(search).split(/\s+/).filter(Boolean);
    let count = 0;
    cards.forEach(({ problem, item }) => {
      const fit = fits(problem, words);
      item.hidden = !fit;
      count += fit ? 1 : 0;
    });
    document.querySelectorAll("#problems section").forEach((section) => {
      section.hidden = !section.querySelector("li:not([hidden])");
    });
    const filtered = Boolean(search || chosen("topic") || chosen("rung") || chosen("kind") || chosen("state"));
    document.getElementById("shown").textContent = count ? say("shown", { shown: count, all: cards.length }) : say("none");
    document.getElementById("choose-clear").hidden = !filtered;
  }

  const mark = () => cards.forEach(({ problem, badge }) => {
    const stage = keep.stage(problem.code);
    badge.textContent = stage === "new" ? "" : say("state_" + stage);
    badge.className = "badge " + stage;
  });

  const card = (problem) => {
    const link = put("a", { href: "#" + problem.number, text: say("numbered", problem) });
    const picture = put("div", { "class": "small", "data-number": problem.number, "aria-hidden": "true" });
    const badge = put("p", { "class": "badge" });
    const facts = put("p", { "class": "facts", text: problem.topics.map((topic) => pack.topics[topic]).join(", ") });
    const kind = pack.kinds.length > 1 ? put("p", { "class": "facts", text: pack.kinds[problem.kind] }) : null;
    const item = put("li", { "class": "card" }, [picture, put("h4", {}, [link]), facts, kind, badge]);
    return { problem, item, badge };
  };

  const draw = async (picture) => {
    const number = Number(picture.dataset.number), chunk = Math.floor((number - 1) / pack.small);
    try {
      const [width, height, text] = (await pieces.need("small-" + (chunk + 1)))[(number - 1) % pack.small];
      const painter = marks.painter({ letters: pack.faces, pens: pack.pens });
      picture.append(painter.draw([[text, "", 0.11]], height, [-0.2, -0.2, width + 0.2, height + 0.2]));
    } catch (error) {
      picture.classList.add("missing");
    }
  };

  const watch = () => {
    const pictures = cards.map(({ item }) => item.querySelector(".small"));
    if (!window.IntersectionObserver) {
      pictures.forEach(draw);
      return;
    }
    seen = new IntersectionObserver((entries) => entries.forEach((entry) => {
      if (entry.isIntersecting) {
        seen.unobserve(entry.target);
        draw(entry.target);
      }
    }), { rootMargin: "300px" });
    pictures.forEach((picture) => seen.observe(picture));
  };

  const begin = (known) => {
    pack = known;
    pack.problems.forEach((problem) => {
      const topics = problem.topics.map((topic) => pack.topics[topic]);
      problem.searched = folded([problem.number, problem.title, problem.code, ...topics, pack.kinds[problem.kind]].join(" "));
    });
    filters(document.getElementById("choose"));
    const place = document.getElementById("problems");
    pack.rungs.forEach((rung) => {
      const own = pack.problems.filter((problem) => problem.rung === rung.number).map(card), name = "rung-" + rung.number;
      cards = cards.concat(own);
      place.append(put("section", { "aria-labelledby": name }, [
        put("h3", { id: name, text: rung.title }), put("ul", { "class": "cards" }, own.map((one) => one.item))]));
    });
    mark();
    show();
    watch();
    keep.heard(() => { mark(); show(); });
  };

  return { begin };
})();
