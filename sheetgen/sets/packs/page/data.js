"use strict";
/* The pieces of a pack, each by its name: from a script beside the page, or from text within it. Pages that are opened from a
   folder cannot fetch files, but scripts they can load; each hands its piece over by calling sheetgenPack(name, piece). */
const pieces = (() => {
  const here = new Map();
  const waiting = new Map();

  window.sheetgenPack = (name, piece) => here.set(name, piece);

  const within = (name) => document.querySelector('script[type="application/json"][data-piece="' + name + '"]');

  const load = (file) => new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = file;
    script.onload = resolve;
    script.onerror = () => { script.remove(); reject(new Error(file)); };
    document.head.append(script);
  });

  const fetched = async (name) => {
    const text = within(name);
    if (here.has(name)) { return here.get(name); }
    if (text) {
      here.set(name, JSON.parse(text.textContent));
    } else {
      await load(name + ".js");
    }
    if (!here.has(name)) { throw new Error(name); }
    return here.get(name);
  };

  /* A promise of a piece; what could not be loaded is tried again when it is wanted again. */
  const need = (name) => {
    if (!waiting.has(name)) {
      const promise = fetched(name);
      promise.catch(() => waiting.delete(name));
      waiting.set(name, promise);
    }
    return waiting.get(name);
  };

  /* A script of somebody else's that is wanted only now: a file beside the page, or text within it. */
  const run = (name) => {
    const text = document.querySelector('script[type="text/plain"][data-script="' + name + '"]');
    if (!text) { return load(name + ".js"); }
    const script = document.createElement("script");
    script.textContent = text.textContent;
    document.head.append(script);
    return Promise.resolve();
  };

  return { need, run };
})();
