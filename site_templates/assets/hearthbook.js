// The choice of a state: lights the drawings and picks the column of the tables. Pages are complete without it.
//
// It reads: .hb-states (role="radiogroup") with buttons [data-state-id], svg.hb-drawing with a class state-<id>,
// [data-state-col] on cells, [data-state-name] on elements that say which state is shown.
(() => {
  "use strict";

  const group = document.querySelector(".hb-states");
  if (!group) return;
  const article = group.closest("article") || document.body;
  const buttons = [...group.querySelectorAll("[data-state-id]")];
  if (!buttons.length) return;
  addEveryButton();
  let showsEvery = false;

  function addEveryButton() {
    const cell = article.querySelector("[data-state-col]");
    if (!cell) return;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Show every state";
    button.setAttribute("aria-pressed", "false");
    button.addEventListener("click", () => {
      showsEvery = !showsEvery;
      button.setAttribute("aria-pressed", String(showsEvery));
      showColumns(article.dataset.state);
    });
    const row = document.createElement("div");
    row.className = "hb-states";
    row.append(button);
    (cell.closest(".hb-scroll") || cell.closest("table")).before(row);
  }

  function showColumns(id) {
    for (const cell of article.querySelectorAll("[data-state-col]")) {
      const chosen = cell.dataset.stateCol === id;
      cell.classList.toggle("hb-col-on", chosen);
      cell.classList.toggle("hb-col-off", !chosen && !showsEvery);
    }
  }

  function show(id) {
    const button = buttons.find((each) => each.dataset.stateId === id);
    if (!button) return false;
    article.dataset.state = id;
    for (const each of buttons) {
      each.setAttribute("aria-checked", String(each === button));
      each.tabIndex = each === button ? 0 : -1;
    }
    for (const drawing of article.querySelectorAll("svg.hb-drawing")) {
      for (const name of [...drawing.classList]) {
        if (name.startsWith("state-")) drawing.classList.remove(name);
      }
      drawing.classList.add(`state-${id}`);
    }
    for (const place of article.querySelectorAll("[data-state-name]")) {
      place.textContent = button.textContent.trim();
    }
    showColumns(id);
    return true;
  }

  function choose(button) {
    show(button.dataset.stateId);
    button.focus();
    history.replaceState(history.state, "", `#state=${encodeURIComponent(button.dataset.stateId)}`);
  }

  function fromAddress() {
    const match = /^#state=(.+)$/.exec(location.hash);
    if (!match) return false;
    try {
      return show(decodeURIComponent(match[1]));
    } catch {
      return false;
    }
  }

  group.addEventListener("click", (event) => {
    const button = event.target.closest("[data-state-id]");
    if (button) choose(button);
  });

  group.addEventListener("keydown", (event) => {
    const at = buttons.indexOf(event.target.closest("[data-state-id]"));
    if (at < 0) return;
    const last = buttons.length - 1;
    const next = {
      ArrowRight: at === last ? 0 : at + 1,
      ArrowDown: at === last ? 0 : at + 1,
      ArrowLeft: at === 0 ? last : at - 1,
      ArrowUp: at === 0 ? last : at - 1,
      Home: 0,
      End: last,
    }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    choose(buttons[next]);
  });

  window.addEventListener("hashchange", fromAddress);

  group.hidden = false;
  if (!fromAddress()) show(buttons[0].dataset.stateId);
})();
