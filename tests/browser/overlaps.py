"""Finds text that lies on other text, in a page as the browser has laid it out; words in drawings included."""

from selenium.webdriver import Chrome

_FIND = r"""
const SKIPPED = ".md-search, .md-sidebar, .md-dialog, .md-overlay, script, style, title, desc, noscript, option";
const holders = new Map();

function holderOf(element) {
  if (holders.has(element)) return holders.get(element);
  let found = element;
  if (element !== document.body) {
    const style = getComputedStyle(element);
    const scrolls = /auto|scroll|hidden/.test(style.overflowX + style.overflowY);
    // What stays in place while the page moves, and what is moved inside a box of its own, is looked at by itself.
    if (!scrolls && style.position !== "fixed" && style.position !== "sticky") found = holderOf(element.parentElement);
  }
  holders.set(element, found);
  return found;
}

const pieces = [];
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
for (let node = walker.nextNode(); node; node = walker.nextNode()) {
  if (!node.data.trim()) continue;
  const parent = node.parentElement;
  if (parent.closest(SKIPPED) || !parent.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true })) continue;
  if (getComputedStyle(parent).clipPath === "inset(50%)") continue;
  const range = document.createRange();
  const start = node.data.search(/\S/);
  range.setStart(node, start);
  range.setEnd(node, start + node.data.trim().length);
  for (const box of range.getClientRects()) {
    // The box of a line has room above and below its letters.
    const room = box.height * 0.2;
    if (box.width < 1 || box.height < 2) continue;
    pieces.push({ node, holder: holderOf(parent), left: box.left + 0.5, right: box.right - 0.5,
                  top: box.top + room, bottom: box.bottom - room });
  }
}

const found = [];
const byHolder = Map.groupBy(pieces, (piece) => piece.holder);
for (const group of byHolder.values()) {
  group.sort((a, b) => a.top - b.top);
  let open = [];
  for (const piece of group) {
    open = open.filter((other) => other.bottom > piece.top);
    for (const other of open) {
      const wide = Math.min(other.right, piece.right) - Math.max(other.left, piece.left);
      const high = Math.min(other.bottom, piece.bottom) - piece.top;
      if (other.node !== piece.node && wide > 1 && high > 1) {
        found.push(`"${other.node.data.trim().slice(0, 40)}" and "${piece.node.data.trim().slice(0, 40)}"`);
      }
    }
    open.push(piece);
  }
}
return found.slice(0, 20);
"""


def overlapping_texts(browser: Chrome) -> list[str]:
    """Say of each two pieces of text that lie on one another which they are; at most 20."""
    found: list[str] = browser.execute_script(_FIND)
    return found
