/* Readings of a planned round, typed at the table. Everything stays in this browser until the
   finished file is handed over; the rule of what is odd is that of the terminal. */
"use strict";
(() => {
  const round = self.blankbookRound;
  const desk = document.getElementById("desk");
  const table = document.getElementById("cells");
  if (!round || !desk || !table) return;

  const make = self.blankbookMake;

  const { tape } = round;
  const odds = self.blankbookOdd(round);
  const { fraction, mmOf, say, expected } = odds;

  /* what was typed, kept through a reload */
  const keep = `blankbook/${round.shop}/${round.round}`;
  let state = { head: {}, read: {}, byPoint: false };
  let kept = true;
  try {
    const held = JSON.parse(localStorage.getItem(keep) || "{}");
    if (held.head && held.read) state = { ...state, ...held };
  } catch {
    kept = false;
  }
  const save = () => {
    try {
      localStorage.setItem(keep, JSON.stringify(state));
      kept = true;
    } catch {
      kept = false;
    }
    trouble.hidden = kept;
  };
  const texts = (piece, point) => ((state.read[piece] || {})[point] || []).filter((one) => one !== "-");
  const entered = (piece, point) => (state.read[piece] || {})[point];
  const siblings = (at) => round.pieces
    .filter(([name, size], place) => place !== at.piece && size === round.pieces[at.piece][1])
    .map(([name]) => texts(name, round.points[at.point].key)[0])
    .filter(Boolean).map(mmOf);
  const targetOf = (at) => round.targets[round.pieces[at.piece][1]][round.points[at.point].key];
  const othersOf = (at) => round.points
    .filter((one, place) => place !== at.point)
    .map((one) => [one.name, round.targets[round.pieces[at.piece][1]][one.key].charted])
    .filter(([, mm]) => mm !== null);

  /* where one is, and what comes next */
  const cells = () => {
    const list = [];
    if (state.byPoint) round.points.forEach((_, point) => round.pieces.forEach((__, piece) => list.push({ piece, point })));
    else round.pieces.forEach((_, piece) => round.points.forEach((__, point) => list.push({ piece, point })));
    return list;
  };
  const same = (a, b) => a.piece === b.piece && a.point === b.point;
  const nameOf = (at) => round.pieces[at.piece][0];
  const keyOf = (at) => round.points[at.point].key;
  const isOpen = (at) => !entered(nameOf(at), keyOf(at));
  const next = (after) => {
    const list = cells(), start = after ? list.findIndex((one) => same(one, after)) + 1 : 0;
    return [...list.slice(start), ...list.slice(0, start)].find(isOpen) || after || list[0];
  };
  let here = next(null);
  let typed = "", part = 0, again = false, asked = null;
  let moved = false;
  const done = [];

  /* the desk */
  const trouble = make("p", { className: "caution", hidden: kept },
    "This browser keeps nothing: copy or download the file before you leave the page.");
  const head = make("div", { className: "head" });
  const words = { date: "day of measuring", by: "by", lot: "lot" };
  for (const key of round.ask) {
    const input = make("input", { type: key === "date" ? "date" : "text", autocomplete: "off", maxLength: 80 });
    if (key === "date" && !state.head.date) {
      const now = new Date();
      state.head.date = new Date(now - now.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
    }
    input.value = state.head[key] || "";
    input.addEventListener("input", () => {
      state.head[key] = input.value.trim();
      save();
      hand();
    });
    head.append(make("label", {}, words[key], input));
  }
  const cell = make("h2", { className: "cell" });
  const shown = make("output", { className: "typed" });
  const echo = make("p", { className: "echo", role: "status" });
  const keys = make("div", { className: "keys", role: "group", "aria-label": "Keys" });
  const key = (label, act, more = {}) => {
    const button = make("button", { type: "button", ...more }, label);
    button.addEventListener("click", act);
    keys.append(button);
    return button;
  };
  const digit = (sign) => () => {
    if (typed.length < 6 && !(sign === "." && typed.includes("."))) typed += sign;
    asked = null;
    draw();
  };
  const mark = (count) => () => {
    part = part === count ? 0 : count;
    asked = null;
    draw();
  };
  for (const sign of "123") key(sign, digit(sign));
  key("⌫", () => { if (part) part = 0; else typed = typed.slice(0, -1); asked = null; draw(); }, { "aria-label": "delete" });
  for (const sign of "456") key(sign, digit(sign));
  key("undo", () => undo());
  for (const sign of "789") key(sign, digit(sign));
  key("again", () => { again = !again; draw(); }, { "aria-label": "one more reading of the same point" });
  if (tape.parts) key("–", () => take("-"), { "aria-label": "not measured" });
  else key(".", digit("."), { "aria-label": "point" });
  key("0", digit("0"));
  if (!tape.parts) key("–", () => take("-"), { "aria-label": "not measured" });
  key("next", () => move(1));
  key("take", () => take(), { className: "take" });
  const marks = [];
  for (let count = 1; count < tape.parts; count += 1) marks.push([count, key(fraction(count, tape.parts), mark(count))]);

  const rest = make("div", { className: "rest" });
  const act = (label, then) => {
    const button = make("button", { type: "button" }, label);
    button.addEventListener("click", then);
    rest.append(button);
    return button;
  };
  const order = act("", () => { state.byPoint = !state.byPoint; save(); draw(); });
  act("back", () => move(-1));
  const ready = make("p", { role: "status" });
  const text = make("textarea", { className: "text", readOnly: true, id: "text", spellcheck: false });
  const give = make("a", { download: round.file }, `download ${round.file}`);
  const copy = make("button", { type: "button" }, "copy");
  copy.addEventListener("click", async () => {
    text.focus();
    text.select();
    let copied = false;
    try {
      await navigator.clipboard.writeText(text.value);
      copied = true;
    } catch {
      copied = document.execCommand("copy");
    }
    ready.textContent = copied ? "Copied: paste it over the round's file." : "Copy the marked text by hand.";
  });
  const last = make("div", { className: "rest" }, give, copy);
  desk.append(trouble, head, cell, shown, echo, keys, rest, make("h2", {}, "The round's file"),
    ready, last, make("label", { htmlFor: "text" }, "What it holds now"), text);
  desk.hidden = false;

  /* the grid: every cell can be gone to */
  const buttons = [...table.tBodies[0].rows].map((row, piece) => [...row.cells].slice(1).map((td, point) => {
    const button = make("button", { type: "button" });
    button.addEventListener("click", () => { here = { piece, point }; clear(); draw(); keys.firstChild.focus(); });
    td.append(button);
    return button;
  }));

  const clear = () => { typed = ""; part = 0; again = false; asked = null; };
  const move = (by) => {
    const list = cells(), at = list.findIndex((one) => same(one, here));
    here = list[(at + by + list.length) % list.length];
    clear();
    draw();
  };
  const current = () => (tape.parts ? fraction(Number(typed || 0) * tape.parts + part, tape.parts) : typed.replace(/\.$/, ""));
  const wrong = (mm) => {
    const { least, most, name } = round.points[here.point];
    if (mm === null || !(mm > 0)) return "type a reading first";
    if (mm < least || mm > most) return `${name} must be between ${say(least)} and ${say(most)}`;
    const steps = mm / tape.mm / tape.step;
    return Math.abs(steps - Math.round(steps)) > 1e-6 ? `must be on a tape read to ${tape.step} ${tape.unit}` : "";
  };
  /* a repeat is held against what was read before, and nothing else */
  const apart = (mm) => {
    const before = texts(nameOf(here), keyOf(here)).map(mmOf);
    const far = before.reduce((a, b) => (Math.abs(mm - b) > Math.abs(mm - a) ? b : a));
    const marks = round.repeats * tape.step * tape.mm;
    return Math.abs(mm - far) > marks + 1e-6 ? [`more than ${round.repeats} marks from ${say(far)}, read before`] : [];
  };
  const put = (value) => {
    const name = nameOf(here), point = keyOf(here);
    const before = entered(name, point);
    done.push([here, before]);
    const held = again && before ? before.filter((one) => one !== "-") : [];
    state.read[name] = { ...state.read[name], [point]: [...held, value] };
    save();
    here = next(here);
    moved = true;
    clear();
    draw();
  };
  const take = (value) => {
    if (value === "-") {
      echo.textContent = `${nameOf(here)} ${round.points[here.point].name}: not measured`;
      put("-");
      return;
    }
    const reading = current(), mm = mmOf(reading), no = wrong(mm);
    if (no) {
      say_(no, true);
      return;
    }
    const odd = again && texts(nameOf(here), keyOf(here)).length ? apart(mm)
      : odds.warnings(mm, targetOf(here), siblings(here), othersOf(here));
    const told = `${nameOf(here)} ${round.points[here.point].name}: ${reading} ${tape.unit}`;
    if (odd.length && asked !== reading) {
      asked = reading;
      say_(`${told}. ${odd.join("; ")}. Take once more keeps it.`, true);
      return;
    }
    say_(told, false);
    put(reading);
  };
  const say_ = (words_, odd) => echo.replaceChildren(odd ? make("span", { className: "odd" }, words_) : words_);
  const undo = () => {
    const one = done.pop();
    if (!one) return;
    const [at, before] = one;
    if (before) state.read[nameOf(at)][keyOf(at)] = before;
    else delete state.read[nameOf(at)][keyOf(at)];
    here = at;
    save();
    clear();
    say_(`taken back: ${nameOf(at)} ${round.points[at.point].name}`, false);
    draw();
  };

  /* the finished file: the planned one with its gaps filled */
  const safe = (value) => (/^[A-Za-z0-9+./(_][^,[\]{}:#\s]*( [^,[\]{}:#\s]+)*$/.test(value)
    && !/^(true|false|yes|no|on|off|y|n|null|none|nan|inf)$/i.test(value) ? value : JSON.stringify(value));
  const filled = (gap) => {
    if (!/^\d+$/.test(gap)) return state.head[gap] ? safe(state.head[gap]) : "";
    const name = round.pieces[gap][0];
    const found = round.points.map(({ key: point }) => [point, texts(name, point)]).filter(([, list]) => list.length);
    if (!found.length) return "";
    return `{${found.map(([point, list]) => `${point}: ${list.length > 1 ? `[${list.join(", ")}]` : list[0]}`).join(", ")}}`;
  };
  const hand = () => {
    const whole = round.parts.map((one) => {
      if (typeof one === "string") return one;
      const value = filled(one.gap);
      return value ? `${one.before}${value}${one.after}` : "";
    }).join("");
    text.value = whole;
    const missing = round.ask.filter((one) => !state.head[one]).map((one) => words[one]);
    const open = cells().filter(isOpen).length;
    ready.textContent = missing.length ? `Still to say: ${missing.join(", ")}.`
      : open ? `${open} readings are open.` : "All is there: hand the file over.";
    if (give.href) URL.revokeObjectURL(give.href);
    give.href = URL.createObjectURL(new Blob([whole], { type: "application/yaml" }));
  };

  const draw = () => {
    const [name, size, colour] = round.pieces[here.piece];
    const wanted = expected(targetOf(here), siblings(here));
    cell.replaceChildren(`${name}, ${round.points[here.point].name} `,
      make("span", { className: "wanted" }, `${size}, ${colour}${wanted === null ? "" : `, about ${say(wanted)}`}`));
    const value = typed || part ? current() : texts(name, keyOf(here)).join("; ");
    shown.textContent = `${value || "–"}${value ? ` ${tape.unit}` : ""}${again ? ", once more" : ""}`;
    for (const [count, button] of marks) button.setAttribute("aria-pressed", String(count === part));
    order.textContent = state.byPoint ? "piece by piece" : "point by point";
    buttons.forEach((row, piece) => row.forEach((button, point) => {
      const held = entered(round.pieces[piece][0], round.points[point].key);
      button.textContent = held ? held.join("; ") : "·";
      button.setAttribute("aria-label", `${round.pieces[piece][0]} ${round.points[point].name}: ${held ? held.join("; ") : "open"}`);
      if (same({ piece, point }, here)) button.setAttribute("aria-current", "true");
      else button.removeAttribute("aria-current");
    }));
    hand();
    if (moved) cell.scrollIntoView({ block: "nearest" });
  };

  /* a keyboard does the same */
  addEventListener("keydown", (event) => {
    if (event.target.matches("input, textarea") || event.ctrlKey || event.metaKey || event.altKey) return;
    const plus = event.key === "+" || event.key === "/";
    if (/^[0-9]$/.test(event.key)) {
      if (plusTyped && tape.parts) { if (Number(event.key) < tape.parts) mark(Number(event.key))(); } else digit(event.key)();
      plusTyped = false;
    } else if (plus) plusTyped = true;
    else if (event.key === "." && !tape.parts) digit(".")();
    else if (event.key === "-") take("-");
    else if (event.key === "Backspace") keys.children[3].click();
    else if (event.key === "ArrowUp") move(-1);
    else if (event.key === "ArrowDown") move(1);
    else if (event.key === "Enter" && !event.target.matches("button, a")) take();
    else return;
    event.preventDefault();
  });
  let plusTyped = false;

  save();
  draw();
})();
