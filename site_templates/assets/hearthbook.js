// The choice of a state: lights every drawing and picks the column of every table. Pages are complete without it.
//
// It reads: .hb-choice with a <select> (each option's value is a state's id, data-words says it as a sentence part) and,
// where there are few states, buttons [data-state-id]; svg.hb-drawing with a class state-<id>; tables with
// th[data-state-col]; [data-state-words] on elements that say which state is shown; links in .hb-tabs, which take the
// chosen state along. The address has it as #state=<id>.
(() => {
  "use strict";

  const chosen = new URLSearchParams(location.hash.slice(1)).get("state");
  const tabs = [...document.querySelectorAll(".hb-tabs a[href]")];
  takeAlong(chosen);

  const bar = document.querySelector(".hb-choice");
  if (!bar) return;
  const page = bar.closest("article") || document.body;
  const select = bar.querySelector("select");
  const options = [...select.options];
  const buttons = [...bar.querySelectorAll("[data-state-id]")];
  const drawings = [...page.querySelectorAll("svg.hb-drawing")];
  const tables = [...page.querySelectorAll("table.hb-table--states")].map(columns).filter((each) => each.heads.length);

  function columns(table) {
    const row = table.tHead ? table.tHead.rows[0] : null;
    const heads = row ? [...row.cells].filter((cell) => cell.dataset.stateCol) : [];
    const at = new Set(heads.map((cell) => cell.cellIndex));
    const cells = new Map(heads.map((cell) => [cell.cellIndex, [cell]]));
    for (const body of table.tBodies) {
      for (const each of body.rows) {
        if (each.cells.length !== row.cells.length) continue;
        for (const cell of each.cells) if (at.has(cell.cellIndex)) cells.get(cell.cellIndex).push(cell);
      }
    }
    return { heads, cells };
  }

  function takeAlong(id) {
    for (const link of tabs) link.hash = id ? `state=${encodeURIComponent(id)}` : "";
  }

  function show(id) {
    const option = options.find((each) => each.value === id);
    if (!option) return false;
    page.dataset.state = id;
    select.value = id;
    for (const each of buttons) {
      each.setAttribute("aria-checked", String(each.dataset.stateId === id));
      each.tabIndex = each.dataset.stateId === id ? 0 : -1;
    }
    for (const drawing of drawings) {
      for (const name of [...drawing.classList]) if (name.startsWith("state-")) drawing.classList.remove(name);
      drawing.classList.add(`state-${id}`);
    }
    for (const { heads, cells } of tables) {
      for (const head of heads) {
        const on = head.dataset.stateCol === id;
        for (const cell of cells.get(head.cellIndex)) {
          cell.classList.toggle("hb-col-on", on);
          cell.classList.toggle("hb-col-off", !on);
        }
      }
    }
    for (const place of page.querySelectorAll("[data-state-words]")) place.textContent = option.dataset.words;
    takeAlong(id);
    return true;
  }

  function choose(id) {
    if (!show(id)) return;
    const address = new URLSearchParams(location.hash.slice(1));
    address.set("state", id);
    history.replaceState(history.state, "", `#${address}`);
  }

  function fromAddress() {
    return show(new URLSearchParams(location.hash.slice(1)).get("state"));
  }

  select.addEventListener("change", () => choose(select.value));

  bar.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if (button.dataset.stateId) choose(button.dataset.stateId);
    if (button.dataset.step) {
      const next = options.indexOf(select.selectedOptions[0]) + Number(button.dataset.step);
      choose(options[(next + options.length) % options.length].value);
    }
  });

  // The buttons are a group of radio buttons: one of them is reached with the Tab key, the arrows choose.
  bar.addEventListener("keydown", (event) => {
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
    choose(buttons[next].dataset.stateId);
    buttons[next].focus();
  });

  window.addEventListener("hashchange", fromAddress);

  bar.hidden = false;
  if (!fromAddress()) show(options[0].value);
})();
