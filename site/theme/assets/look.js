/* A delivery looked over: one key for each piece, before the tape. How many to look at was settled
   before the first is opened. */
"use strict";
self.blankbookLook = (round, keep, changed) => {
  const make = self.blankbookMake, plan = round.look;
  if (!plan) return null;
  const seen = () => keep.state.look;
  const bad = () => seen().filter((one) => one.fault);
  const heading = make("h2", { className: "cell" });
  const told = make("p", { role: "status", className: "echo" });
  const sizes = make("select", {}, ...plan.sizes.map((size) => make("option", {}, size)));
  const note = make("input", { type: "text", autocomplete: "off", maxLength: 400 });
  const button = (label, act) => {
    const made = make("button", { type: "button" }, label);
    made.addEventListener("click", act);
    return made;
  };
  const take = (fault) => () => {
    const words = fault ? note.value.trim() : "";
    keep.change((state) => {
      state.look = [...state.look, fault ? { fault, size: sizes.value, note: words } : {}];
    });
    note.value = "";
    changed();
  };
  const undo = button("undo", () => {
    keep.change((state) => { state.look = state.look.slice(0, -1); });
    changed();
  });
  const faults = make("div", { className: "rest" }, button("nothing wrong", take("")),
    ...plan.faults.map(([key, words]) => button(words, take(key))));
  const part = make("section", { "aria-label": "Look over" }, heading, make("p", {}, plan.says), told,
    make("div", { className: "head" }, make("label", {}, "a fault is of size", sizes), make("label", {}, "where and how", note)),
    faults, make("div", { className: "rest" }, undo));
  const draw = () => {
    const count = seen().length, left = plan.asked - count;
    heading.textContent = left > 0 ? `Look at piece ${count + 1} of ${plan.asked}` : `All ${plan.asked} looked at: now the tape`;
    told.textContent = `${count} looked at, ${bad().length} bad.${bad().length >= plan.reject ? " So many bad are rejected." : ""}`;
    faults.hidden = left <= 0;
    undo.hidden = !count;
  };
  /* what the file holds of it */
  const filled = (gap, safe) => {
    if (gap === "inspected") return seen().length ? String(seen().length) : "";
    const rows = bad().map(({ size, fault, note: words }) => `{size: ${safe(size)}, fault: ${fault}${words ? `, note: ${safe(words)}` : ""}}`);
    return rows.length ? `[${rows.join(", ")}]` : "";
  };
  return { part, draw, filled, left: () => Math.max(plan.asked - seen().length, 0) };
};
