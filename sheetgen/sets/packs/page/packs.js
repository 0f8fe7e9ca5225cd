"use strict";
/* Searches a list of packs. Without scripts it is a list all the same. */
(() => {
  const folded = (text) => text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "");
  const items = Array.from(document.querySelectorAll(".packs > li")).map((item) => [item, folded(item.textContent)]);
  const search = document.getElementById("search"), shown = document.getElementById("shown");

  const show = () => {
    const words = folded(search.value).split(/\s+/).filter(Boolean);
    let count = 0;
    items.forEach(([item, text]) => {
      item.hidden = !words.every((word) => text.includes(word));
      count += item.hidden ? 0 : 1;
    });
    shown.textContent = count ? shown.dataset.shown.replace("%shown%", count) : shown.dataset.none;
  };

  const form = document.getElementById("choose");
  form.addEventListener("submit", (event) => event.preventDefault());
  search.addEventListener("input", show);
  form.hidden = items.length < 2;
  show();
})();
