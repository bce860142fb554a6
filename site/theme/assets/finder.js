/* Finding, sorting and choosing in the catalogue. The page reads whole without it; what it adds it
   makes itself, so that nothing stands there dead where scripts are off. */
"use strict";
(() => {
  const table = document.getElementById("catalogue");
  const finder = document.getElementById("finder");
  if (!table || !finder) return;

  const body = table.tBodies[0];
  const rows = [...body.rows];
  const FIELDS = [
    ["today", "today"], ["ordered", "may be ordered in"], ["decision", "decision"],
    ["supplier", "supplier"], ["fabric", "fabric"], ["size", "made in"], ["colour", "colour"], ["use", "use"],
  ];
  const wanted = {};
  const inputs = {};

  const make = self.blankbookMake;
  const labelled = (words, control) => {
    control.id = `ask-${words.replace(/\W+/g, "-")}`;
    return make("div", { className: "asked" }, make("label", { htmlFor: control.id }, words), control);
  };

  /* what a row has to say for a field: one value or several */
  const values = (row, field) => (row.dataset[field] || "").split("|").filter(Boolean);

  const choices = (field) => {
    const found = new Set(rows.flatMap((row) => values(row, field)));
    return ["today", "ordered", "size"].includes(field) ? [...found] : [...found].sort((a, b) => a.localeCompare(b));
  };

  const search = make("input", { type: "search", autocomplete: "off", spellcheck: false });
  inputs.find = search;
  const more = make("div", { className: "more", id: "more" });
  const opens = make("button", { type: "button", className: "opens", "aria-expanded": "false", "aria-controls": "more" }, "narrow it down");
  const open = (wide) => {
    more.className = wide ? "more all" : "more";
    opens.setAttribute("aria-expanded", String(wide));
  };
  opens.addEventListener("click", () => open(more.className === "more"));
  finder.append(labelled("find", search), opens, more);
  for (const [field, words] of FIELDS) {
    const options = choices(field);
    if (options.length < 2) continue;
    const control = make("select", {}, make("option", { value: "" }, "any"), ...options.map((one) => make("option", { value: one }, one)));
    inputs[field] = control;
    more.append(labelled(words, control));
  }
  for (const [field, words] of [["least", "g/m2 from"], ["most", "g/m2 to"]]) {
    inputs[field] = make("input", { type: "number", min: "0", step: "5", inputMode: "numeric" });
    more.append(labelled(words, inputs[field]));
  }
  const clear = make("button", { type: "button" }, "show all");
  const said = make("p", { className: "said", role: "status" });
  finder.append(clear, said);
  /* what was chosen stays in sight below the rows, and is there again when somebody comes back */
  const beside = make("a", { className: "choice" });
  const named = make("span", {});
  const none = make("button", { type: "button", className: "sorts" }, "choose none");
  const bar = make("div", { className: "bar", hidden: true }, named, none, beside);
  finder.parentElement.append(bar);
  finder.hidden = false;

  /* every column head becomes a button */
  const heads = [...table.tHead.rows[0].cells];
  for (const head of heads) {
    const button = make("button", { type: "button", className: "sorts" }, ...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const name = button.textContent;
      wanted.sort = wanted.sort === name ? `-${name}` : name;
      remember();
    });
  }

  /* a mark for each row that is to be compared; a thousand of them wait until nothing else is due */
  const chosen = new Set();
  const boxes = new Map();
  const before = new Set((history.state && history.state.chosen) || []);
  const unmarked = finder.dataset.compare ? [...rows] : [];
  const mark = (row) => {
    const name = row.cells[0].querySelector("a").textContent;
    const box = make("input", { type: "checkbox", "aria-label": `compare ${name}` });
    row.cells[0].querySelector(".named > span:last-child")
      .append(make("label", { className: "mark" }, box, "compare"));
    boxes.set(row.id, { box, name });
    box.addEventListener("change", () => {
      if (box.checked) chosen.add(row.id);
      else chosen.delete(row.id);
      offer();
    });
    if (before.has(row.id)) {
      box.checked = true;
      chosen.add(row.id);
      offer();
    }
  };
  none.addEventListener("click", () => {
    for (const key of chosen) boxes.get(key).box.checked = false;
    chosen.clear();
    offer();
    search.focus();
  });
  const whenIdle = self.requestIdleCallback || ((then) => setTimeout(then, 1));
  const markSome = () => {
    unmarked.splice(0, 50).forEach(mark);
    if (unmarked.length) whenIdle(markSome);
  };
  const offer = () => {
    const keys = [...chosen];
    bar.hidden = keys.length < 1;
    named.textContent = keys.map((key) => boxes.get(key).name).join(", ");
    history.replaceState({ chosen: keys }, "");
    const enough = keys.length >= 2 && keys.length <= 4;
    if (enough) beside.href = `${finder.dataset.compare}#lay=${keys.map(encodeURIComponent).join(",")}`;
    else beside.removeAttribute("href");
    beside.textContent = enough ? `lay ${keys.length} blanks beside each other`
      : keys.length > 4 ? "four at most can be laid beside each other" : "choose one more to compare";
    say();
  };

  /* the words of every blank are asked for when somebody searches */
  let words = null;
  const fetchWords = () => {
    if (words) return;
    words = {};
    const script = make("script", { src: finder.dataset.words });
    script.addEventListener("load", () => {
      words = self.blankbookWords || {};
      apply();
    });
    document.head.append(script);
  };
  const texts = new Map();
  const text = (row) => {
    if (!texts.has(row)) texts.set(row, row.textContent.toLowerCase());
    return texts.get(row);
  };
  const says = (row, asked) => asked.every((word) => text(row).includes(word)
    || (words && (words[row.id] || "").includes(word)));

  const fits = (row, asked) => {
    if (asked.length && !says(row, asked)) return false;
    for (const [field] of FIELDS) {
      if (wanted[field] && !values(row, field).includes(wanted[field])) return false;
    }
    const mass = Number(row.dataset.mass);
    if (wanted.least && !(mass >= Number(wanted.least))) return false;
    return !(wanted.most && !(mass > 0 && mass <= Number(wanted.most)));
  };

  const number = (told) => {
    const found = /[-+]?\d+(\.\d+)?/.exec(told);
    return found ? Number(found[0]) : null;
  };
  const byWord = new Intl.Collator().compare;
  const ordered = (place, numeric, down) => {
    const told = rows.map((row) => {
      const text = row.cells[place].textContent.trim(), { order } = row.cells[place].dataset;
      return { row, empty: /^–?$/.test(text), key: order ? Number(order) : numeric ? number(text) : text };
    });
    const rule = numeric || typeof told[0]?.key === "number" ? (a, b) => (a === null) - (b === null) || a - b : byWord;
    told.sort((a, b) => a.empty - b.empty || (down ? -rule(a.key, b.key) : rule(a.key, b.key)));
    return told.map((one) => one.row);
  };

  /* a thousand rows are slow to move: the first screens at once, the others behind them when idle */
  const AT_ONCE = 150;
  let waiting = [], placed = null;
  const moveSome = (count) => {
    const some = waiting.splice(0, count);
    if (placed) placed.after(...some);
    else body.prepend(...some);
    placed = some.at(-1) || placed;
  };
  const moveWhenIdle = () => {
    moveSome(AT_ONCE);
    if (waiting.length) whenIdle(moveWhenIdle);
  };
  addEventListener("beforeprint", () => moveSome(rows.length));

  const sort = () => {
    const name = (wanted.sort || "").replace(/^-/, "");
    const down = (wanted.sort || "").startsWith("-");
    const place = heads.findIndex((head) => head.textContent === name);
    heads.forEach((head, at) => {
      if (at === place) head.setAttribute("aria-sort", down ? "descending" : "ascending");
      else head.removeAttribute("aria-sort");
    });
    const order = place < 0 ? rows : ordered(place, heads[place].classList.contains("num"), down);
    const now = body.children, moving = waiting.length > 0;
    if (!moving && order.every((row, at) => now[at] === row)) return;
    waiting = [...order];
    placed = null;
    moveSome(AT_ONCE);
    if (waiting.length && !moving) whenIdle(moveWhenIdle);
  };

  /* one line for all that changes: how many rows, in which order, and what was chosen */
  let shown = rows.length;
  const say = () => {
    const sorted = wanted.sort ? `, sorted by ${wanted.sort.replace(/^-/, "")}${wanted.sort.startsWith("-") ? ", downwards" : ""}` : "";
    const picked = chosen.size ? `; ${chosen.size} chosen to compare` : "";
    said.textContent = `${shown} of ${rows.length} shown${sorted}${picked}`;
  };
  const apply = () => {
    const asked = (wanted.find || "").toLowerCase().split(/\s+/).filter(Boolean);
    if (asked.length) fetchWords();
    let count = 0;
    for (const row of rows) {
      const shown = fits(row, asked);
      if (row.hidden === shown) row.hidden = !shown;
      count += shown;
    }
    sort();
    shown = count;
    say();
    document.getElementById("nothing").hidden = count > 0;
    clear.hidden = !Object.values(wanted).some(Boolean);
  };

  /* the address carries what is asked, so that a view can be handed on */
  const remember = () => {
    const kept = new URLSearchParams(Object.entries(wanted).filter(([, value]) => value));
    const address = `#${kept}`;
    if (address !== location.hash && (location.hash || address !== "#")) history.replaceState(history.state, "", address);
    apply();
  };
  const recall = () => {
    const asked = new URLSearchParams(location.hash.slice(1));
    for (const field of [...Object.keys(inputs), "sort"]) {
      wanted[field] = asked.get(field) || "";
      const control = inputs[field];
      if (!control) continue;
      control.value = wanted[field];
      if (control.value !== wanted[field]) wanted[field] = "";
    }
    if (Object.keys(inputs).some((field) => field !== "find" && wanted[field])) open(true);
    apply();
  };
  for (const [field, control] of Object.entries(inputs)) {
    control.addEventListener("input", () => {
      wanted[field] = control.value.trim();
      remember();
    });
  }
  clear.addEventListener("click", () => {
    for (const field of Object.keys(wanted)) wanted[field] = "";
    for (const control of Object.values(inputs)) control.value = "";
    remember();
    search.focus();
  });
  addEventListener("hashchange", recall);
  recall();
  markSome();
})();
