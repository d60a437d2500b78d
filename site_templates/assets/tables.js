// Tables taken away: what is shown to the clipboard, the whole as a file for a spreadsheet. And every box that scrolls
// sideways can be reached from the keyboard.
//
// It reads: table.hb-table--states[data-file], with .hb-terminal and .hb-purpose in the head of each row, .hb-lands for each
// conductor, th[data-state-col] over readings (<b> holds the number), .hb-device in the head of a group of rows.
(() => {
  "use strict";

  const text = (node) => node.textContent.trim().replace(/\s+/g, " ");
  const say = (node, selector) => (node.querySelector(selector) ? text(node.querySelector(selector)) : "");

  // One list of cells a row; each reading is a number and a word. Columns out of sight are left out where asked.
  function content(table, onlyShown) {
    const heads = [...table.tHead.rows[0].cells];
    const lands = heads.findIndex((cell) => cell.cellIndex > 0 && !cell.dataset.stateCol);
    const states = heads.filter(
      (cell) => cell.dataset.stateCol && (!onlyShown || getComputedStyle(cell).display !== "none"),
    );
    const grouped = Boolean(table.querySelector(".hb-device"));
    const rows = [[
      ...(grouped ? ["Device"] : []),
      "Terminal",
      "For",
      ...(lands > 0 ? ["What lands there"] : []),
      ...states.flatMap((cell) => [`${text(cell)}, V`, `${text(cell)}, word`]),
    ]];
    for (const body of table.tBodies) {
      const device = say(body, ".hb-device");
      for (const row of body.rows) {
        if (row.cells.length !== heads.length) continue;
        rows.push([
          ...(grouped ? [device] : []),
          say(row, ".hb-terminal"),
          say(row, ".hb-purpose"),
          ...(lands > 0 ? [[...row.cells[lands].children].map(text).join("; ")] : []),
          ...states.flatMap((head) => reading(row.cells[head.cellIndex])),
        ]);
      }
    }
    return rows;
  }

  function reading(cell) {
    const number = say(cell, "b");
    return [number.replace(/ V$/, ""), text(cell).slice(number.length).trim()];
  }

  // RFC 4180; an apostrophe before what a spreadsheet would take for a formula.
  function cell(value) {
    const safe = /^[=+\-@\t\r]/.test(value) && !/^-?\d+(\.\d+)?$/.test(value) ? `'${value}` : value;
    return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  }

  function save(table) {
    const lines = content(table, false).map((row) => row.map(cell).join(","));
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([`\ufeff${lines.join("\r\n")}\r\n`], { type: "text/csv" }));
    link.download = `${table.dataset.file.replace(/[^\w.-]+/g, "-")}.csv`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  }

  async function copy(table) {
    const lines = content(table, true).map((row) => row.join("\t")).join("\n");
    try {
      await navigator.clipboard.writeText(lines);
      return true;
    } catch {
      const field = document.createElement("textarea");
      field.value = lines;
      document.body.append(field);
      field.select();
      const done = document.execCommand("copy");
      field.remove();
      return done;
    }
  }

  function tool(name, act) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = name;
    button.addEventListener("click", () => act(button));
    return button;
  }

  const every = [];
  for (const table of document.querySelectorAll("table.hb-table--states[data-file]")) {
    const page = table.closest("article") || document.body;
    const tools = document.createElement("div");
    tools.className = "hb-tools";
    tools.setAttribute("role", "group");
    const box = table.closest(".hb-scroll");
    tools.setAttribute("aria-label", `For the table: ${box.getAttribute("aria-label")}`);
    const said = document.createElement("span");
    said.setAttribute("role", "status");
    if (table.tHead.querySelectorAll("[data-state-col]").length > 1) {
      const all = tool("Every state", () => {
        const on = page.classList.toggle("hb-every");
        for (const each of every) each.setAttribute("aria-pressed", String(on));
      });
      all.setAttribute("aria-pressed", "false");
      every.push(all);
      tools.append(all);
    }
    tools.append(
      tool("Copy what is shown", async () => {
        said.textContent = (await copy(table)) ? "Copied." : "This browser did not allow it.";
      }),
      tool("All of it as CSV", () => save(table)),
      said,
    );
    box.before(tools);
  }

  window.addEventListener("load", () => {
    for (const box of document.querySelectorAll(".md-typeset__scrollwrap")) {
      let before = box.previousElementSibling;
      while (before && !/^H[1-6]$/.test(before.tagName)) before = before.previousElementSibling;
      box.tabIndex = 0;
      box.setAttribute("role", "region");
      box.setAttribute("aria-label", before ? `Table: ${before.textContent.trim()}` : "Table");
    }
  });

  // Opened from a disk there is no server that finds the page of a folder.
  if (location.protocol === "file:") {
    for (const link of document.querySelectorAll("a[href]")) {
      const to = new URL(link.href);
      if (to.protocol === "file:" && to.pathname.endsWith("/")) {
        to.pathname += "index.html";
        link.href = to.href;
      }
    }
  }
})();
