/* Readings of a planned round, typed at the table with one thumb. Everything stays in this browser
   until the finished file is handed over; the rule of what is odd is that of the terminal. */
"use strict";
(() => {
  const round = self.blankbookRound;
  const desk = document.getElementById("desk");
  const table = document.getElementById("cells");
  if (!round || !desk || !table) return;

  const make = self.blankbookMake;
  const MOST = 200; // readings that can be taken back
  const PAUSE = 400; // ms: a second tap that is quicker was meant for the first
  const WIDE = 16; // marks that have keys; a finer tape has a plus

  round.tape = round.tapes[0];
  const odds = self.blankbookOdd(round);
  const { fraction, say } = odds;
  const keep = self.blankbookKeep(`blankbook/${round.shop}/${round.round}`, () => {
    if (!typed && !again && !isOpen(here)) here = next(here);
    renew();
  });
  const hand = self.blankbookHand(round, odds, keep, () => over);
  const over = self.blankbookLook(round, keep, () => renew());

  /* where one is, and what comes next */
  const nameOf = (at) => round.pieces[at.piece][0];
  const pointOf = (at) => round.points[at.point];
  const told = (at) => `${nameOf(at)} ${pointOf(at).name}`;
  const entered = (at) => (keep.state.read[nameOf(at)] || {})[pointOf(at).key];
  const isOpen = (at) => !entered(at);
  const same = (a, b) => a.piece === b.piece && a.point === b.point;
  const cells = () => {
    const all = round.pieces.map((_, piece) => round.points.map((__, point) => ({ piece, point })));
    return keep.state.byPoint ? round.points.flatMap((_, point) => all.map((row) => row[point])) : all.flat();
  };
  const next = (after) => {
    const list = cells(), start = after ? list.findIndex((one) => same(one, after)) + 1 : 0;
    return [...list.slice(start), ...list.slice(0, start)].find(isOpen) || after || list[0];
  };
  const anyRead = () => keep.state.look.length > 0 || Object.values(keep.state.read).some((one) => Object.keys(one).length);
  const tapeName = (tape) => `${tape.says} ${tape.unit}`;
  let here = next(null);
  let typed = "", again = false, asked = null, askedAt = 0;

  /* the head: what a measured round says of itself */
  const head = make("div", { className: "head" });
  const inputs = {};
  for (const [key, words] of Object.entries(hand.words)) {
    const input = make("input", { type: key === "date" ? "date" : "text", autocomplete: "off", maxLength: key === "by" ? 60 : 80,
      disabled: key === "date" && Boolean(round.look) });
    input.addEventListener("input", () => {
      keep.change((state) => { state.head[key] = hand.clean(input.value); });
      drawHand();
    });
    inputs[key] = input;
    head.append(make("label", {}, words, input));
  }
  const tapes = make("select", {}, ...round.tapes.map((tape) => make("option", {}, tapeName(tape))));
  tapes.addEventListener("change", () => {
    keep.change((state) => { state.tape = tapes.value; });
    clear();
    renew();
  });
  head.append(make("label", {}, "tape read to", tapes));
  /* once all of it is given it folds away, so that the keys are on the first screen */
  const given = make("summary", {});
  const top = make("details", { className: "top", open: true }, given, head);
  const fixed = make("p", { className: "quiet" }, "One round, one tape: to choose another, take the readings back.");

  /* the work: where one is, what is beside it, what was typed, and the keys below */
  const cell = make("h2", { className: "cell", tabIndex: -1 });
  const near = make("dl", { className: "near" });
  const shown = make("output", { className: "typed" });
  const echo = make("p", { className: "echo", role: "status" });
  const trouble = make("p", { className: "caution" }, "This browser keeps nothing: copy or download the file before you leave.");
  const button = (label, act, more = {}) => {
    const made = make("button", { type: "button", ...more }, label);
    made.addEventListener("click", act);
    return made;
  };
  const digit = (sign) => () => {
    if (typed.length < 6 && !(/\D/.test(sign) && (/\D/.test(typed) || !typed))) typed += sign;
    asked = null;
    drawTyped();
  };
  const back = () => { typed = typed.slice(0, -1); asked = null; drawTyped(); };
  const mark = (count) => (event) => {
    typed = `${typed.replace(/\D.*/, "") || "0"}+${count}`;
    asked = null;
    take(event);
  };
  const taking = button("take", (event) => (asked ? keepOdd : take)(event), { className: "take" });
  const repeat = button("again", () => {
    const last = keep.state.done.at(-1);
    const at = last && placeOf(last);
    again = !again;
    if (again && isOpen(here) && at && !isOpen(at)) go(at, true); // once more is what was read just now
    else drawTyped();
  }, { "aria-label": "again: one more reading of the same point" });
  const undoing = button("undo", () => (asked ? dropOdd : undo)());
  const keys = make("div", { className: "keys", role: "group", "aria-label": "Keys" });
  const layKeys = () => {
    const { marks, parts } = round.tape, wide = marks && parts <= WIDE;
    const others = { 3: button("⌫", back, { "aria-label": "delete" }), 6: undoing, 9: repeat };
    const digits = make("div", { className: "digits" });
    for (let sign = 1; sign < 10; sign += 1) digits.append(button(String(sign), digit(String(sign))), others[sign] || "");
    digits.append(button("–", () => leave(), { "aria-label": "not measured" }), button("0", digit("0")));
    if (marks && !wide) digits.append(button("+", digit("+"), { "aria-label": "plus, before the marks" }));
    else if (!marks && round.tape.width) digits.append(button(".", digit("."), { "aria-label": "point" }));
    digits.append(taking);
    keys.replaceChildren(digits);
    if (!wide) return;
    const row = make("div", { className: parts > 8 ? "marks fine" : "marks" });
    for (let count = 1; count < parts; count += 1) row.append(button(fraction(count, parts), mark(count)));
    keys.append(row);
  };
  const work = make("section", { className: "work", "aria-label": "Reading" },
    make("div", { className: "info" },
      make("div", { className: "where" }, button("‹", () => move(-1), { "aria-label": "back" }), cell,
        button("›", () => move(1), { "aria-label": "next" })),
      near, shown, echo, trouble), keys);

  const order = button("", () => { keep.change((state) => { state.byPoint = !state.byPoint; }); draw(); });
  let sure = false;
  const anew = button("", () => {
    if (sure) {
      keep.change((state) => {
        Object.assign(state, { read: {}, done: [], why: {}, look: [] });
        delete state.head.date;
      });
      here = next(null);
      clear();
      say_("All readings are gone from this browser.", false);
    }
    sure = !sure;
    renew();
  });
  top.append(fixed);
  desk.append(top, ...(over ? [over.part] : []), work, make("div", { className: "rest" }, order, anew), ...hand.parts);
  desk.hidden = false;
  document.getElementById("bare").hidden = true;

  /* the grid: every cell can be gone to */
  const buttons = [...table.tBodies[0].rows].map((row, piece) => [...row.cells].slice(1).map((td, point) => {
    const made = button("", () => { go({ piece, point }); cell.focus({ preventScroll: true }); work.scrollIntoView(); });
    td.append(made);
    return made;
  }));

  const clear = () => { typed = ""; again = false; asked = null; };
  const go = (at, more = false) => {
    const before = here;
    here = at;
    clear();
    again = more;
    drawCell(before);
    drawHere();
  };
  const move = (by) => {
    const list = cells(), at = list.findIndex((one) => same(one, here));
    go(list[(at + by + list.length) % list.length]);
  };
  const placeOf = ([name, key]) => {
    const at = { piece: round.pieces.findIndex(([one]) => one === name), point: round.points.findIndex((one) => one.key === key) };
    return at.piece < 0 || at.point < 0 ? null : at;
  };
  /* a number is not torn from its fraction or its unit at the end of a line */
  const unbroken = (words) => words.replace(/(\d) (?=\d+\/\d|in\b|cm\b|mm\b)/g, "$1\u00a0");
  const say_ = (words, odd) => echo.replaceChildren(odd ? make("span", { className: "odd" }, unbroken(words)) : unbroken(words));
  /* put a list of texts into a cell, or take it out with null */
  const hold = (state, at, list) => {
    const name = nameOf(at), read = { ...state.read[name] };
    if (list) read[pointOf(at).key] = list;
    else delete read[pointOf(at).key];
    state.read[name] = read;
  };
  const put = (value) => {
    const at = here, tape = tapeName(round.tape);
    keep.change((state) => {
      const before = (state.read[nameOf(at)] || {})[pointOf(at).key] || null;
      const kept = again && before ? before.filter((one) => one !== "-") : [];
      hold(state, at, [...kept, value]);
      state.done = [...state.done, [nameOf(at), pointOf(at).key, before]].slice(-MOST);
      state.head.date ||= hand.day();
      state.tape ||= tape;
    });
    here = next(at);
    sure = false;
    clear();
    if (!cells().some(isOpen)) echo.append(make("a", { href: "#hand", className: "done" }, "All read: hand it over"));
    drawCell(at);
    drawHere();
    drawHead();
    drawHand();
    if (work.getBoundingClientRect().top < 0 || work.getBoundingClientRect().bottom > innerHeight + 1) work.scrollIntoView();
  };
  const leave = () => {
    say_(`${told(here)}: not measured`, false);
    put("-");
  };
  const take = (event) => {
    const at = here, found = odds.look(keep.state.read, at, typed, again, keep.state.why);
    if (found.wrong) {
      say_(/\?/.test(found.instead) ? `${typed}: ${found.instead}` : found.wrong, true);
      drawTyped();
      return;
    }
    const words = `${told(at)}: ${found.text} ${round.tape.unit}`;
    if (found.odd.length) {
      asked = found.text;
      askedAt = event ? event.timeStamp : 0;
      say_(`${words}. ${found.odd.join("; ").replace(/([^?])$/, "$1.")} Keep it?`, true);
      drawTyped();
      return;
    }
    say_(words, false);
    put(found.text);
  };
  /* an odd reading stays only by a key that says so: yes, no, or what it is */
  const keepOdd = (event) => {
    if (event && event.timeStamp - askedAt < PAUSE) return;
    say_(`${told(here)}: ${asked} ${round.tape.unit}`, false);
    put(asked);
  };
  const dropOdd = () => {
    say_(`${told(here)}: not taken, read it again`, false);
    clear();
    drawTyped();
  };
  const undo = () => {
    let one = null, at = null;
    keep.change((state) => {
      one = state.done.pop();
      at = one && placeOf(one);
      if (at) hold(state, at, one[2]);
    });
    if (!one) say_("Nothing is left to take back.", false);
    else say_(`taken back: ${one[0]} ${at ? pointOf(at).name : one[1]}`, false);
    if (at) here = at;
    clear();
    renew();
  };

  const drawTyped = () => {
    const found = typed ? odds.look(keep.state.read, here, typed, again) : {};
    const held = odds.texts(keep.state.read, here).join("; ");
    const value = typed ? found.text || typed : held;
    shown.textContent = `${value || "–"}${value && (found.text || !typed) ? ` ${round.tape.unit}` : ""}${again ? ", once more" : ""}`;
    taking.textContent = asked ? "keep" : "take";
    undoing.textContent = asked ? "no" : "undo";
    repeat.setAttribute("aria-pressed", String(again));
  };
  const drawCell = (at) => {
    const made = buttons[at.piece][at.point], held = entered(at);
    made.textContent = held ? held.join("; ") : "·";
    made.setAttribute("aria-label", `${told(at)}: ${held ? held.join("; ") : "open"}`);
    if (same(at, here)) made.setAttribute("aria-current", "true");
    else made.removeAttribute("aria-current");
  };
  const drawHere = () => {
    const [name, size, colour] = round.pieces[here.piece], wanted = odds.wanted(keep.state.read, here);
    const about = wanted === null ? "" : `, about ${say(wanted)}`;
    cell.replaceChildren(`${name}, ${pointOf(here).name} `, make("span", { className: "wanted" }, unbroken(`${size}, ${colour}${about}`)));
    near.replaceChildren(...odds.near(keep.state.read, here).map((one) => make("div", {},
      make("dt", {}, one.own && one.read.length ? `other ${one.size}` : one.size), make("dd", {}, unbroken(odds.few(one))))));
    drawCell(here);
    drawTyped();
  };
  const drawHead = () => {
    const { state } = keep;
    for (const [key, input] of Object.entries(inputs)) {
      const value = key in state.head ? state.head[key] : round.head[key] || (key === "date" ? hand.day() : "");
      if (document.activeElement !== input) input.value = value;
    }
    fixed.hidden = !(tapes.disabled = anyRead());
    given.textContent = `${Object.values(inputs).map((input) => input.value || "?").join(", ")}; read to ${tapeName(round.tape)}`;
    trouble.hidden = keep.whole;
  };
  const drawHand = () => {
    const open = cells().filter(isOpen).length, count = round.pieces.length * round.points.length - open;
    trouble.hidden = keep.whole;
    order.textContent = keep.state.byPoint ? "piece by piece" : "point by point";
    anew.hidden = !anyRead();
    anew.textContent = sure ? `forget ${count} readings?` : "begin anew";
    if (over) over.draw();
    hand.draw(open);
  };
  const draw = () => {
    cells().forEach(drawCell);
    drawHere();
    drawHead();
    drawHand();
  };
  /* what is kept may have changed as a whole: by another window, by undo, by another tape */
  const renew = () => {
    const tape = round.tapes.find((one) => tapeName(one) === keep.state.tape) || round.tapes[0];
    if (tape !== round.tape || !keys.firstChild) {
      round.tape = tape;
      layKeys();
    }
    tapes.value = tapeName(tape);
    draw();
  };

  /* a keyboard does the same */
  let byKeys = false;
  addEventListener("click", (event) => { if (event.detail) byKeys = false; }, true);
  addEventListener("keydown", (event) => {
    if (event.target.matches("input, textarea, select") || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Tab") byKeys = false;
    if (/^[0-9.]$/.test(event.key)) digit(event.key)();
    else if (event.key === "+" || event.key === "/") digit("+")();
    else if (event.key === "-") leave();
    else if (event.key === "Backspace") back();
    else if (event.key === "ArrowUp") move(-1);
    else if (event.key === "ArrowDown") move(1);
    else if (asked && event.key === "y") keepOdd(null);
    else if (asked && event.key === "n") dropOdd();
    else if (event.key === "Enter" && (byKeys || !event.target.matches("button, a"))) take(event);
    else return;
    byKeys = true;
    event.preventDefault();
  });

  renew();
  top.open = Object.values(inputs).some((input) => !input.value);
  say_(round.hint, false);
  if (!(over && over.left()) && (anyRead() || !top.open)) { // the browser would go back to where one was before
    history.scrollRestoration = "manual";
    work.scrollIntoView();
    addEventListener("load", () => requestAnimationFrame(() => work.scrollIntoView()));
  }
})();
