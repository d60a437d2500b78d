// Finds a property in the whole stock while words are typed, and by filters. The page is complete without it: it lists
// every property, or links to the pages that do.
//
// It reads: form.hb-finder with an input, a .hb-finder__filters, an output and an <ol>; data-index on the form is the
// address of the index, a script so that it loads from a file as well, and data-root the site's first page from here.
// What is looked for stands in the address: #find?q=words&severity=danger, which other pages link to.
(() => {
  "use strict";

  const form = document.querySelector("form.hb-finder[data-index]");
  if (!form) return;
  const field = form.querySelector("input");
  const told = form.querySelector("output");
  const list = form.querySelector("ol");
  const filters = form.querySelector(".hb-finder__filters");
  const summary = form.querySelector("summary");
  const more = form.querySelector(".hb-finder__more");
  const clear = form.querySelector(".hb-finder__clear");
  const AT_ONCE = 20;
  const MARK = "#find?";
  let stock = null;
  let found = [];
  let exact = false;

  // ---------------------------------------------------------------- words as they are compared
  const plain = (text) => {
    const small = text.toLowerCase();
    if (/^[\x20-\x7e]*$/.test(small)) return small;
    return small
      .normalize("NFD")
      .replace(/[\u0300-\u036f]/g, "")
      .replace(/[\u2018\u2019]/g, "'");
  };
  const spaced = (text) => plain(text).replace(/[^\p{L}\p{N}']+/gu, " ");
  const close = (text) => plain(text).replace(/[^\p{L}\p{N}]+/gu, "");

  // ---------------------------------------------------------------- the index, made ready once
  // All texts stand in one, with a space before and after each word, so that one search finds a word in all of them.
  function ready(index) {
    const names = index.refs.split("\n");
    const uprns = index.uprns.split("\n");
    const postcodes = index.postcodes.split("\n");
    const numbers = index.numbers.split("\n");
    const count = index.street.length;
    const streets = index.streets.map(spaced);
    const refs = names.map(close);
    const codes = postcodes.map(close);
    const begins = new Uint32Array(count + 1);
    const texts = [];
    let length = 0;
    for (let at = 0; at < count; at += 1) {
      const text = ` ${spaced(names[at])} ${refs[at]} ${uprns[at]} ${plain(postcodes[at])} ${codes[at]} ${spaced(numbers[at])} ${streets[index.street[at]]} \n`;
      begins[at] = length;
      length += text.length;
      texts.push(text);
    }
    begins[count] = length;
    const facets = index.facets.map((facet) => {
      const values = facet.values.map((each) => (Array.isArray(each) ? each : [each, each]));
      return { ...facet, values, plain: values.map(([, words]) => plain(words)), chosen: -1 };
    });
    return {
      count,
      names,
      uprns,
      refs,
      codes,
      begins,
      text: texts.join(""),
      address(at) {
        const street = index.streets[index.street[at]];
        const address = numbers[at] ? `${numbers[at]} ${street}` : street;
        return postcodes[at] ? `${address}, ${postcodes[at]}` : address;
      },
      facets,
      by: Object.fromEntries(facets.map((facet) => [facet.key, facet])),
    };
  }

  // ---------------------------------------------------------------- finding
  // How well one word fits each property: 0 not at all, then as below.
  const A_WORD = 1;
  const BEGINS_A_WORD = 2;
  const INSIDE = 3;
  const BY_SORT = 4;
  let known = new Map();

  function fitsOf(word) {
    const fits = new Uint8Array(stock.count);
    for (const form of new Set([word.replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, ""), close(word)])) look(form, fits);
    for (const facet of stock.facets) {
      if (!facet.found) continue;
      const values = facet.plain.map((words) => words.includes(word));
      if (!values.includes(true)) continue;
      const sets = facet.sets.map((set) => set.some((value) => values[value]));
      for (let at = 0; at < stock.count; at += 1) if (!fits[at] && sets[facet.of[at]]) fits[at] = BY_SORT;
    }
    return fits;
  }

  function look(word, fits) {
    const { text, begins } = stock;
    let at = 0;
    for (let place = text.indexOf(word); place >= 0; ) {
      while (begins[at + 1] <= place) at += 1;
      const begun = text[place - 1] === " ";
      const how = !begun ? INSIDE : text[place + word.length] === " " ? A_WORD : BEGINS_A_WORD;
      if (!fits[at] || how < fits[at]) fits[at] = how;
      place = text.indexOf(word, how === A_WORD ? begins[at + 1] : place + 1);
    }
  }

  // What was typed as a whole, without spaces and hyphens: a reference first, then another key, then how one begins.
  const EXACT = 0;
  const EXACT_OTHER = 1;
  const BEGINS = 2;
  const BEGINS_OTHER = 3;
  const WORDS = 4;

  function wholly(at, whole) {
    if (stock.refs[at].startsWith(whole)) return stock.refs[at] === whole ? EXACT : BEGINS;
    if (stock.uprns[at].startsWith(whole)) return stock.uprns[at] === whole ? EXACT_OTHER : BEGINS_OTHER;
    if (stock.codes[at].startsWith(whole)) return stock.codes[at] === whole ? EXACT_OTHER : BEGINS_OTHER;
    return -1;
  }

  function find(typed) {
    const whole = close(typed);
    const words = plain(typed).split(/\s+/).filter(close);
    const chosen = stock.facets
      .filter((facet) => facet.chosen >= 0)
      .map((facet) => ({ of: facet.of, sets: facet.sets.map((set) => set.includes(facet.chosen)) }));
    if (!words.length && !chosen.length) return null;
    // Only the word that is being typed is new: the others are known from the key before.
    known = new Map(words.map((word) => [word, known.get(word) || fitsOf(word)]));
    const fits = [...known.values()];
    const tiers = [];
    next: for (let at = 0; at < stock.count; at += 1) {
      for (const facet of chosen) if (!facet.sets[facet.of[at]]) continue next;
      let how = whole ? wholly(at, whole) : WORDS;
      if (how < 0) {
        how = WORDS;
        for (const each of fits) {
          if (!each[at]) continue next;
          how += each[at] - 1;
        }
      }
      (tiers[how] ||= []).push(at);
    }
    return { exact: (tiers[EXACT] || tiers[EXACT_OTHER] || []).length === 1, at: tiers.flat() };
  }

  // ---------------------------------------------------------------- showing
  const named = (count) => `${count.toLocaleString("en-GB")} propert${count === 1 ? "y" : "ies"}`;

  function show() {
    const result = find(field.value);
    found = result ? result.at : [];
    list.replaceChildren();
    list.hidden = !found.length;
    extend();
    if (!result) told.textContent = "";
    else if (!found.length) told.textContent = "No property found.";
    else if (found.length <= AT_ONCE) told.textContent = `${named(found.length)} found.`;
    else told.textContent = `${named(found.length)} found, the first ${AT_ONCE} shown.`;
    clear.hidden = !result;
    const on = stock.facets.filter((facet) => facet.chosen >= 0).map((facet) => facet.values[facet.chosen][1]);
    summary.textContent = on.length ? `Filters: ${on.join(", ")}` : "Filters";
    exact = Boolean(result && result.exact);
  }

  function extend() {
    const first = list.children.length;
    list.append(...found.slice(first, first + AT_ONCE).map(item));
    more.hidden = list.children.length >= found.length;
  }

  function item(at) {
    const link = document.createElement("a");
    link.href = `${form.dataset.root}p/${encodeURIComponent(stock.names[at])}/`;
    link.append(part("hb-found__ref", stock.names[at]), " ", part("hb-found__address", stock.address(at)));
    const severity = stock.by.severity;
    const worst = Math.min(...severity.sets[severity.of[at]]);
    if (severity.values[worst] && severity.values[worst][0] !== "none") {
      link.append(" ", part(`hb-severity hb-severity--${severity.values[worst][0]}`, severity.values[worst][1]));
    }
    const arrangement = stock.by.arrangement;
    link.append(" ", part("hb-found__line", arrangement.values[arrangement.sets[arrangement.of[at]][0]][1]));
    const row = document.createElement("li");
    row.append(link);
    return row;
  }

  function part(name, words) {
    const span = document.createElement("span");
    span.className = name;
    span.textContent = words;
    return span;
  }

  // ---------------------------------------------------------------- filters
  function addFilters() {
    for (const facet of stock.facets) {
      const used = new Array(facet.values.length).fill(0);
      const sizes = new Array(facet.sets.length).fill(0);
      for (const set of facet.of) sizes[set] += 1;
      facet.sets.forEach((set, at) => set.forEach((value) => (used[value] += sizes[at])));
      const label = document.createElement("label");
      const select = document.createElement("select");
      const any = new Option("Any", "");
      const places = facet.values.map((_, at) => at).filter((at) => used[at]);
      if (!facet.ordered) places.sort((a, b) => used[b] - used[a] || a - b);
      select.append(any, ...places.map((at) => new Option(`${facet.values[at][1]} (${used[at].toLocaleString("en-GB")})`, at)));
      select.addEventListener("change", () => {
        choose(facet, select.value === "" ? -1 : Number(select.value));
        changed();
      });
      label.append(part("hb-finder__facet", facet.words), select);
      facet.select = select;
      if (places.length > 1) filters.append(label);
    }
  }

  function choose(facet, value) {
    facet.chosen = value;
    facet.select.value = value < 0 ? "" : String(value);
    facet.select.classList.toggle("hb-finder__chosen", value >= 0);
  }

  // ---------------------------------------------------------------- the address says what is looked for
  function toAddress() {
    const words = new URLSearchParams();
    if (field.value.trim()) words.set("q", field.value.trim());
    for (const facet of stock.facets) if (facet.chosen >= 0) words.set(facet.key, facet.values[facet.chosen][0]);
    const said = words.toString();
    const bare = location.href.split("#")[0];
    history.replaceState(history.state, "", said ? `${bare}${MARK}${said}` : bare);
  }

  function fromAddress() {
    if (!location.hash.startsWith(MARK)) return false;
    const words = new URLSearchParams(location.hash.slice(MARK.length));
    field.value = words.get("q") || "";
    for (const facet of stock.facets) {
      const wanted = words.get(facet.key);
      facet.chosen = wanted === null ? -1 : facet.values.findIndex(([key]) => key === wanted);
      if (facet.chosen >= 0 && !filters.contains(facet.select)) {
        facet.select.append(new Option(facet.values[facet.chosen][1], facet.chosen));
      }
      choose(facet, facet.chosen);
    }
    show();
    return true;
  }

  function changed() {
    show();
    toAddress();
  }

  // ---------------------------------------------------------------- the keyboard
  const links = () => [...list.querySelectorAll("a")];

  form.addEventListener("keydown", (event) => {
    const all = links();
    const at = all.indexOf(event.target);
    if (event.target !== field && at < 0) return;
    if (event.key === "ArrowDown" && all.length) {
      event.preventDefault();
      if (at === all.length - 1 && !more.hidden) extend();
      (links()[at + 1] || all[at]).focus();
    } else if (event.key === "ArrowUp" && at >= 0) {
      event.preventDefault();
      (all[at - 1] || field).focus();
    } else if (event.key === "Escape" && at >= 0) {
      event.preventDefault();
      field.focus();
    }
  });

  // Enter opens what can only be meant; otherwise it goes to the first, and Enter there opens it.
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const first = links()[0];
    if (!first) return;
    if (found.length === 1 || exact) first.click();
    else first.focus();
  });

  // ---------------------------------------------------------------- begin
  let waiting = 0;
  field.addEventListener("input", () => {
    if (!stock) return;
    show();
    clearTimeout(waiting);
    waiting = setTimeout(toAddress, 300);
  });
  more.addEventListener("click", () => {
    const next = list.children.length;
    extend();
    links()[next].focus();
  });
  clear.addEventListener("click", () => {
    field.value = "";
    for (const facet of stock.facets) choose(facet, -1);
    changed();
    field.focus();
  });
  window.addEventListener("hashchange", () => stock && fromAddress());

  const script = document.createElement("script");
  script.src = form.dataset.index;
  script.addEventListener("load", () => {
    performance.mark("hb-index");
    stock = ready(window.hearthbookIndex);
    delete window.hearthbookIndex;
    addFilters();
    form.dataset.ready = "yes";
    performance.measure("hb-ready", "hb-index");
    if (!fromAddress() && field.value) show();
  });
  script.addEventListener("error", () => {
    told.textContent = "The list that is searched here could not be loaded. Every property is in the lists below.";
  });
  document.head.append(script);
  form.hidden = false;
})();
