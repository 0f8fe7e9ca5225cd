"use strict";
/* Elements and words. All text is put in as text, never as HTML. */
const made = (() => {
  let texts = {};

  const learn = (known) => { texts = known; };

  /* A text of the wording, with its values: they stand in it as %name%. */
  const say = (name, values) => {
    const text = Object.prototype.hasOwnProperty.call(texts, name) ? texts[name] : name;
    return text.replace(/%([a-z_]+)%/g, (whole, key) => (values && key in values ? String(values[key]) : whole));
  };

  const put = (name, options, children) => {
    const element = document.createElement(name);
    for (const key of Object.keys(options || {})) {
      if (key === "text") {
        element.textContent = options.text;
      } else if (key === "on") {
        Object.keys(options.on).forEach((event) => element.addEventListener(event, options.on[event]));
      } else if (options[key] === true) {
        element.setAttribute(key, "");
      } else if (options[key] !== false && options[key] !== null && options[key] !== undefined) {
        element.setAttribute(key, options[key]);
      }
    }
    (children || []).filter(Boolean).forEach((child) => element.append(child));
    return element;
  };

  const button = (text, click, options) => put("button", Object.assign({ type: "button", text, on: { click } }, options || {}));

  /* Says to who cannot see it what has changed. */
  const tell = (text) => {
    const status = document.getElementById("said");
    status.textContent = "";
    window.setTimeout(() => { status.textContent = text; }, 50);
  };

  let counted = 0;
  const id = (what) => {
    counted += 1;
    return what + "-" + counted;
  };

  return { learn, say, put, button, tell, id };
})();
