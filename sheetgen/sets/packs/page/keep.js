"use strict";
/* What a student has done, kept in the browser where that keeps anything: by problem, how many hints were seen, whether the lengths
   were right, whether the answer was seen, whether all is done. */
const keep = (() => {
  let key = "", state = {}, kept = true;
  const heard = [];

  const read = () => {
    try {
      const found = JSON.parse(window.localStorage.getItem(key) || "{}");
      state = found && typeof found === "object" && !Array.isArray(found) ? found : {};
    } catch (error) {
      state = {};
      kept = false;
    }
  };

  const write = () => {
    try {
      window.localStorage.setItem(key, JSON.stringify(state));
      kept = true;
    } catch (error) {
      kept = false;
    }
    heard.forEach((listener) => listener());
  };

  const begin = (mark) => {
    key = "sheetgen-pack-" + mark;
    read();
    try {
      window.localStorage.setItem(key, JSON.stringify(state));
    } catch (error) {
      kept = false;
    }
    window.addEventListener("storage", (event) => {
      if (event.key === key || event.key === null) {
        read();
        heard.forEach((listener) => listener());
      }
    });
  };

  const of = (code) => {
    const found = Object.prototype.hasOwnProperty.call(state, code) ? state[code] : null;
    return found && typeof found === "object" ? found : {};
  };

  const note = (code, what) => {
    state[code] = Object.assign({}, of(code), what);
    write();
  };

  /* How far a problem is: new, begun or done. */
  const stage = (code) => {
    const found = of(code);
    if (found.done) { return "done"; }
    return Object.keys(found).some((what) => found[what]) ? "begun" : "new";
  };

  const reset = () => {
    state = {};
    write();
  };

  return { begin, of, note, stage, reset, heard: (listener) => heard.push(listener), isKept: () => kept };
})();
