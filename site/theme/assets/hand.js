/* The finished file of a round: the planned one with its gaps filled, to download or to copy. */
"use strict";
self.blankbookHand = (round, odds, keep, over) => {
  const make = self.blankbookMake;
  const words = { date: "day of measuring", by: "by", lot: "lot" };
  /* today, or the day that a delivery's file is called by: that one stays */
  const day = () => {
    const now = new Date();
    return round.head.date || new Date(now - now.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
  };
  /* without what is not to be seen, which no file of a ledger may hold */
  const clean = (value) => value.replace(
    /[\u0000-\u0008\u000a-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufdd0-\ufdef\ufeff\ufff0-\ufff8\ufffe\uffff]/gu,
    "").trim();

  /* a text as YAML: plain where that is plainly the same text, else in quotes */
  const safe = (value) => (/^[A-Za-z0-9+./(_][^,[\]{}:#\s]*( [^,[\]{}:#\s]+)*$/.test(value)
    && !/^(true|false|yes|no|on|off|y|n|null|none|\.?nan|[+.]*inf|\.+)$/i.test(value) ? value
    : JSON.stringify(value));
  const readings = (place) => {
    const found = round.points.map((one, point) => [one.key, odds.texts(keep.state.read, { piece: place, point })])
      .filter(([, list]) => list.length)
      .map(([point, list]) => `${point}: ${list.length > 1 ? `[${list.join(", ")}]` : list[0]}`);
    return found.length ? `{${found.join(", ")}}` : "";
  };
  const filled = (gap) => {
    const { head, why } = keep.state, [place, of] = gap.split(".");
    if (gap === "inspected" || gap === "faults") return over().filled(gap, (text) => safe(clean(text)));
    if (place === "tape" && round.tape === round.tapes[0]) return ""; // as the plan has it
    if (place === "tape") return of === "unit" ? round.tape.unit : round.tape.says;
    if (of === "received") return readings(Number(place));
    if (of !== "confirmed") return head[gap] && head[gap] !== round.head[gap] ? safe(head[gap]) : "";
    const reason = why[round.pieces[place][0]];
    return reason && readings(Number(place)) ? safe(reason) : "";
  };
  const whole = () => round.parts.map((one) => {
    if (typeof one === "string") return one;
    const value = filled(one.gap) || one.held;
    return value ? `${one.before || ""}${value}${one.after || ""}` : "";
  }).join("");
  /* the pieces with a reading that is odd by what is there now */
  const oddPieces = () => round.pieces
    .map(([name], piece) => [name, round.points.filter((_, point) => odds.oddNow(keep.state.read, { piece, point }).length)])
    .filter(([, points]) => points.length);

  const ready = make("p", { role: "status" });
  const reasons = make("div", { className: "head" });
  const text = make("textarea", { className: "text", readOnly: true, id: "text", spellcheck: false });
  const give = make("a", { download: round.file }, `download ${round.file}`);
  const copy = make("button", { type: "button" }, "copy");
  let given = "";
  give.addEventListener("click", () => { given = text.value; });
  copy.addEventListener("click", async () => {
    text.focus();
    text.select();
    text.setSelectionRange(0, text.value.length);
    let copied = false;
    try {
      await navigator.clipboard.writeText(text.value);
      copied = true;
    } catch {
      copied = document.execCommand("copy");
    }
    if (copied) given = text.value;
    ready.textContent = copied ? "Copied: paste it over the round's file." : "Copy the marked text by hand.";
  });
  /* what nothing keeps is not left without a word */
  addEventListener("beforeunload", (event) => {
    if (!keep.whole && keep.state.done.length && given !== text.value) event.preventDefault();
  });

  let asked = "";
  const ask = () => {
    const odd = oddPieces(), now = JSON.stringify(odd);
    if (now === asked) return;
    asked = now;
    reasons.replaceChildren(...odd.map(([name, points]) => {
      const input = make("input", { type: "text", autocomplete: "off", maxLength: round.most, value: keep.state.why[name] || "" });
      input.addEventListener("input", () => {
        keep.change((state) => { state.why[name] = clean(input.value); });
        fill();
      });
      return make("label", {}, `${name}, odd ${points.map((one) => one.name).join(", ")}: why it is right`, input);
    }));
  };
  const fill = () => {
    text.value = whole();
    if (give.href) URL.revokeObjectURL(give.href);
    give.href = URL.createObjectURL(new Blob([text.value], { type: "application/yaml" }));
  };
  const draw = (open) => {
    const { head, read } = keep.state;
    const missing = Object.keys(words) // the day is there with the first reading
      .filter((one) => (one in head ? !head[one] : !round.head[one] && one !== "date")).map((one) => words[one]);
    const strange = Object.keys(read).filter((name) => Object.keys(read[name]).length
      && !round.pieces.some(([piece]) => piece === name));
    ready.textContent = [
      missing.length ? `Still to say: ${missing.join(", ")}.` : "",
      over() && over().left() ? `${over().left()} more to look at.` : "",
      open ? `${open} ${open === 1 ? "reading is" : "readings are"} open.` : "",
      strange.length ? `Kept, but no longer in the plan: ${strange.join(", ")}.` : "",
    ].filter(Boolean).join(" ") || "All read: hand it over.";
    ask();
    fill();
  };
  const parts = [make("h2", { id: "hand" }, "The round's file"), ready, reasons, make("div", { className: "rest" }, give, copy),
    make("label", { htmlFor: "text" }, "What it holds now"), text];
  return { draw, parts, words, clean, day };
};
