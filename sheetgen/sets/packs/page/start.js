"use strict";
/* Begins the page: the list, the problem that the address names, and what is done with progress. */
(() => {
  const { say, put, button, tell } = made;

  const cell = (value) => {
    const text = String(value === undefined || value === null ? "" : value);
    const plain = /^[=+\-@\t\r]/.test(text) ? "'" + text : text;             // so that no table program takes it for a formula
    return '"' + plain.replace(/"/g, '""') + '"';
  };

  const table = (pack) => {
    const heads = ["number", "title", "code", "state", "hints", "stages", "right", "answer"];
    const rows = pack.problems.map((one) => {
      const done = keep.of(one.code);
      return [one.number, one.title, one.code, say("state_" + keep.stage(one.code)), done.hints || 0, done.stages || 0,
              done.checks ? say("result_of", { right: done.right || 0, count: one.lengths }) : "", done.answer ? say("yes") : ""];
    });
    return "\ufeff" + [heads.map((head) => say("head_" + head)), ...rows].map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
  };

  const exported = (pack) => {
    const address = URL.createObjectURL(new Blob([table(pack)], { type: "text/csv" }));
    const link = put("a", { href: address, download: pack.file + ".csv" });
    document.body.append(link);
    link.click();
    link.remove();
    window.setTimeout(() => URL.revokeObjectURL(address), 10000);
  };

  const progress = (pack, place) => {
    const count = put("p", {}), about = put("p", {}), sure = put("p", { "class": "tools", hidden: true });
    const first = button(say("reset"), () => {
      sure.hidden = false;
      first.hidden = true;
      no.focus();
    });
    const close = () => {
      sure.hidden = true;
      first.hidden = false;
      first.focus();
    };
    const no = button(say("reset_no"), close);
    sure.append(put("span", { text: say("reset_sure") }), no, button(say("reset_yes"), () => {
      keep.reset();
      close();
      tell(say("reset_done"));
    }, { "class": "plain" }));
    const fresh = () => {
      const done = pack.problems.filter((one) => keep.stage(one.code) === "done").length;
      count.textContent = say("done_of", { done, all: pack.problems.length });
      about.textContent = say(keep.isKept() ? "kept" : "not_kept");
      about.className = keep.isKept() ? "facts" : "warning";
    };
    place.append(count, about, put("p", { "class": "tools" }, [button(say("export"), () => exported(pack)), first]), sure);
    fresh();
    keep.heard(fresh);
  };

  const route = (pack) => {
    const place = document.getElementById("one"), number = Number(window.location.hash.slice(1));
    const one = Number.isInteger(number) ? pack.problems[number - 1] : undefined;
    const before = !place.hidden;
    place.hidden = !one;
    document.querySelectorAll(".of-list").forEach((section) => { section.hidden = Boolean(one); });
    if (one) {
      problem.show(pack, one, place);
      window.scrollTo(0, 0);
      return;
    }
    problem.leave();
    place.replaceChildren();
    document.title = pack.title;
    if (before) {
      const last = document.querySelector('#problems a[href="#' + route.last + '"]');
      const focused = last && !last.closest("[hidden]") ? last : document.getElementById("problems-title");
      focused.focus();
      focused.scrollIntoView({ block: "center" });
    }
  };

  const begin = async () => {
    let pack;
    try {
      pack = await pieces.need("pack");
    } catch (error) {
      document.getElementById("failed").hidden = false;
      return;
    }
    made.learn(pack.texts);
    keep.begin(pack.mark);
    list.begin(pack);
    progress(pack, document.getElementById("progress"));
    window.addEventListener("hashchange", (event) => {
      const old = event.oldURL.split("#")[1];
      if (old && Number(old)) { route.last = old; }
      route(pack);
    });
    document.querySelector(".skip").addEventListener("click", (event) => {        // the address names a problem, and stays
      event.preventDefault();
      const one = document.querySelector("#one:not([hidden]) h2");
      (one || document.getElementById("main")).focus();
    });
    route(pack);
    document.body.classList.add("ready");
  };

  /* Not before the page's other scripts have run: the first piece comes as one of them, to save a journey. */
  if (document.readyState === "loading") {
    document.addEventListener("DOMContentLoaded", begin);
  } else {
    begin();
  }
})();
