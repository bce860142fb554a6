/* What was typed, kept by the browser: through a reload, a closed tab, and beside another window.
   A browser may keep nothing, be full, or hold something damaged; none of it stops the page. */
"use strict";
self.blankbookKeep = (name, changed) => {
  const texts = (held) => Object.fromEntries(Object.entries(held && typeof held === "object" ? held : {})
    .filter(([, text]) => typeof text === "string"));
  const lists = (held) => Object.fromEntries(Object.entries(held && typeof held === "object" ? held : {})
    .map(([key, list]) => [key, Array.isArray(list) ? list.filter((one) => typeof one === "string" && /^[\d ./-]+$/.test(one)) : []])
    .filter(([, list]) => list.length));
  const pieces = (held) => Object.fromEntries(Object.entries(held && typeof held === "object" ? held : {})
    .map(([piece, read]) => [piece, lists(read)]));
  /* only what has the right shape: the rest is as if it had not been kept */
  const sound = (text) => {
    let held = null;
    try {
      held = JSON.parse(text);
    } catch {
      /* half a text */
    }
    held = held && typeof held === "object" ? held : {};
    const done = Array.isArray(held.done) ? held.done : [];
    return {
      head: texts(held.head),
      why: texts(held.why),
      read: pieces(held.read),
      look: (Array.isArray(held.look) ? held.look : []).map(texts),
      done: done.filter((one) => Array.isArray(one) && typeof one[0] === "string" && typeof one[1] === "string"
        && (one[2] === null || Array.isArray(one[2]))),
      tape: typeof held.tape === "string" ? held.tape : "",
      byPoint: held.byPoint === true,
    };
  };

  const keep = { state: sound("{}"), whole: true };
  const held = () => {
    try {
      return localStorage.getItem(name);
    } catch {
      keep.whole = false;
      return null;
    }
  };
  let last = held();
  if (last !== null) keep.state = sound(last);
  /* what another window has written since; false where nothing is new */
  const renew = () => {
    const now = keep.whole ? held() : null;
    if (now === null || now === last) return false;
    last = now;
    keep.state = sound(now);
    return true;
  };
  /* change what is kept, upon what another window has kept meanwhile */
  keep.change = (change) => {
    renew();
    change(keep.state);
    const text = JSON.stringify(keep.state);
    try {
      localStorage.setItem(name, text);
      last = text;
      keep.whole = true;
    } catch {
      keep.whole = false;
    }
  };
  /* whether it can be kept at all is known before the first reading */
  try {
    localStorage.setItem(name, last === null ? "{}" : last);
    last = last === null ? "{}" : last;
  } catch {
    keep.whole = false;
  }
  const look = () => { if (renew()) changed(); };
  addEventListener("storage", (event) => { if (event.key === name) look(); });
  addEventListener("pageshow", look);
  document.addEventListener("visibilitychange", look);
  return keep;
};
