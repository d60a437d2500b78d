// Follows one conductor: what is pointed at or reached in a drawing or a table stands out in all of them.
//
// It reads: [data-conductor] on the parts of the terminal drawings and on what lands at a terminal in the tables (.hb-lands),
// and .hb-traced-words inside .hb-choice, where a conductor that was picked is named. The address has it as &core=<id>.
(() => {
  "use strict";

  const bar = document.querySelector(".hb-choice");
  if (!bar) return;
  const page = bar.closest("article") || document.body;
  const words = bar.querySelector(".hb-traced-words");
  const parts = new Map();
  for (const part of page.querySelectorAll("[data-conductor]")) {
    const key = part.dataset.conductor;
    if (parts.has(key)) parts.get(key).push(part);
    else parts.set(key, [part]);
  }
  if (!parts.size) return;
  let shown = null;
  let picked = null;

  function mark(key, on) {
    for (const part of parts.get(key) || []) {
      part.classList.toggle("hb-traced", on);
      const holder = part.closest("tr") || part.closest("svg.hb-drawing");
      if (holder) holder.classList.toggle(holder.tagName === "TR" ? "hb-traced-row" : "hb-tracing", on);
    }
  }

  function show(key) {
    if (key === shown) return;
    if (shown !== null) mark(shown, false);
    shown = key;
    if (key !== null) mark(key, true);
  }

  function inSight(selector) {
    return (parts.get(picked) || []).find((part) => part.matches(selector) && part.getClientRects().length);
  }

  function named(key) {
    const found = parts.get(key);
    const drawn = found.map((part) => part.querySelector(":scope > title")).find(Boolean);
    if (drawn) return drawn.textContent;
    const row = found[0].closest("tr");
    return `${row ? `${row.cells[0].textContent.trim()}: ` : ""}${found[0].textContent.trim().replace(/\s+/g, " ")}`;
  }

  function jump(name, selector) {
    const target = inSight(selector);
    if (!target) return;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = name;
    button.addEventListener("click", () => {
      target.scrollIntoView({ block: "center", inline: "center" });
      target.focus({ preventScroll: true });
    });
    words.append(" ", button);
  }

  function pick(key) {
    picked = key;
    show(key);
    for (const [name, found] of parts) {
      for (const part of found) if (part.matches(".hb-lands")) part.setAttribute("aria-pressed", String(name === key));
    }
    const address = new URLSearchParams(location.hash.slice(1));
    if (key === null) address.delete("core");
    else address.set("core", key);
    if (address.get("core") !== new URLSearchParams(location.hash.slice(1)).get("core")) {
      history.replaceState(history.state, "", `#${address}`);
    }
    words.textContent = key === null ? "" : `Followed: ${named(key)}.`;
    if (key === null) return;
    jump("In the drawing", ".hb-core, svg .hb-link");
    jump("In the table", ".hb-lands");
    const stop = document.createElement("button");
    stop.type = "button";
    stop.textContent = "Let go";
    stop.addEventListener("click", () => pick(null));
    words.append(" ", stop);
  }

  const keyOf = (target) => {
    const part = target instanceof Element ? target.closest("[data-conductor]") : null;
    return part ? part.dataset.conductor : null;
  };
  page.addEventListener("pointerover", (event) => {
    if (event.pointerType !== "touch") show(keyOf(event.target) ?? picked);
  });
  page.addEventListener("pointerleave", () => show(picked));
  page.addEventListener("focusin", (event) => show(keyOf(event.target) ?? picked));
  page.addEventListener("focusout", () => show(picked));
  page.addEventListener("click", (event) => {
    const key = keyOf(event.target);
    if (key !== null) pick(key === picked ? null : key);
  });

  // In a table the Tab key reaches one conductor, the arrows go on from there.
  for (const table of page.querySelectorAll("table")) {
    const landings = [...table.querySelectorAll(".hb-lands")];
    for (const [at, each] of landings.entries()) {
      each.setAttribute("role", "button");
      each.setAttribute("aria-pressed", "false");
      each.tabIndex = at ? -1 : 0;
    }
    table.addEventListener("keydown", (event) => {
      const at = landings.indexOf(event.target);
      const next = {
        ArrowDown: Math.min(at + 1, landings.length - 1),
        ArrowUp: Math.max(at - 1, 0),
        Home: 0,
        End: landings.length - 1,
      }[event.key];
      if (at < 0 || next === undefined) return;
      event.preventDefault();
      landings[at].tabIndex = -1;
      landings[next].tabIndex = 0;
      landings[next].focus();
    });
  }

  page.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && picked !== null) pick(null);
    const key = event.key === "Enter" || event.key === " " ? keyOf(event.target) : null;
    if (key === null || event.target.closest("button, a, select, summary")) return;
    event.preventDefault();
    pick(key === picked ? null : key);
  });

  const asked = new URLSearchParams(location.hash.slice(1)).get("core");
  if (parts.has(asked)) pick(asked);
})();
