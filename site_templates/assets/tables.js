// Plain tables are put by the theme into boxes that scroll sideways. Here each box can be reached from the keyboard.
window.addEventListener("load", () => {
  "use strict";

  for (const box of document.querySelectorAll(".md-typeset__scrollwrap")) {
    let before = box.previousElementSibling;
    while (before && !/^H[1-6]$/.test(before.tagName)) before = before.previousElementSibling;
    box.tabIndex = 0;
    box.setAttribute("role", "region");
    box.setAttribute("aria-label", before ? `Table: ${before.textContent.trim()}` : "Table");
  }
});
