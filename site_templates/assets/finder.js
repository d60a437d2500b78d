// Finds properties in the list on the first page: a row stays while it has every word that was typed.
//
// It reads: form.hb-finder with a search field, rows #hb-stock tbody tr with lower-case words in data-find.
(() => {
  "use strict";

  const form = document.querySelector("form.hb-finder");
  const table = document.getElementById("hb-stock");
  if (!form || !table) return;
  const field = form.querySelector("input");
  const rows = [...table.querySelectorAll("tbody tr")].map((row) => [row, row.dataset.find || ""]);
  const count = document.createElement("output");
  count.htmlFor = field.id;
  form.append(count);

  function find() {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    let found = 0;
    for (const [row, text] of rows) {
      const fits = words.every((word) => text.includes(word));
      if (row.hidden === fits) row.hidden = !fits;
      if (fits) found += 1;
    }
    count.textContent = words.length ? `${found} of ${rows.length} found` : "";
  }

  // One property left: Enter opens it.
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const left = rows.filter(([row]) => !row.hidden);
    const link = left.length === 1 ? left[0][0].querySelector("a") : null;
    if (link) link.click();
  });

  field.addEventListener("input", find);
  form.hidden = false;
  find();
})();
