/* Two to four blanks beside each other. What is shown is worked out when the site is built, and
   stands in one small file for each blank; this lays it out. */
"use strict";
(() => {
  const place = document.getElementById("compare");
  if (!place) return;
  const MOST = 4;
  const lead = place.firstElementChild;
  const taken = new Map();

  const make = self.blankbookMake;
  const draw = (name, settings, ...inside) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(settings)) made.setAttribute(key, value);
    made.append(...inside);
    return made;
  };
  const sign = (one) => make("b", { className: `sign ${one.class}` },
    make("i", { "aria-hidden": "true" }, one.shape), ` ${one.word}`);
  const table = (id, words, heads, rows) => {
    const grouped = Boolean(rows[0] && rows[0].title);
    const line = ([first, ...cells]) => make("tr", {}, make("th", { scope: "row" }, first),
      ...cells.map((cell) => make("td", { className: grouped ? "stage" : "" }, ...[cell].flat())));
    const body = (title, some) => make("tbody", {}, ...(title ? [make("tr", { className: "group" },
      make("th", { scope: "rowgroup", colSpan: heads.length }, title))] : []), ...some.map(line));
    return make("div", { className: `scroll ${grouped ? "tables" : ""}`, role: "region", tabIndex: 0, "aria-labelledby": id },
      make("table", { className: "kept" }, make("caption", { id }, make("span", {}, words)),
        make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
        ...(grouped ? rows.map((one) => body(one.title, one.rows)) : [body("", rows)])));
  };
  const section = (id, title, ...inside) => make("section", { "aria-labelledby": id },
    make("h2", { id }, title), ...inside);
  const keys = () => location.hash.replace(/^#lay=/, "").split(",").map(decodeURIComponent)
    .filter((key) => /^[^/\\]+\/[^/\\]+$/.test(key) && !key.includes("..")).slice(0, MOST);
  const under = (words) => make("span", { className: "under" }, words);
  const key = (at) => `line line-${at}`;
  const swatch = (at) => draw("svg", { width: 36, height: 12, "aria-hidden": "true" },
    draw("line", { x1: 0, y1: 6, x2: 36, y2: 6, class: key(at) }));

  const labels = (blanks) => [...new Set(blanks.flatMap((blank) => blank.sizes.map((size) => size.label)))];
  const sized = (blank, label) => blank.sizes.find((size) => size.label === label);

  /* how long a length is in the drawings */
  const ruler = ([mm, words], scale, y) => {
    const end = -155 + mm * scale;
    const label = draw("text", { x: end + 8, y: y + 4, class: "measure" }, words);
    return [draw("path", { d: `M-155 ${y - 4}V${y + 4}M-155 ${y}H${end}M${end} ${y - 4}V${y + 4}`, class: "measure" }), label];
  };

  /* one panel for each size label: the outlines that have it, to one scale */
  const panels = (blanks) => {
    const shapes = blanks.flatMap((blank) => blank.sizes.map((size) => size.outline)).filter((one) => one.length);
    if (!shapes.length) return [];
    const bar = [Number(place.dataset.barMm), place.dataset.bar];
    const wide = Math.max(...shapes.flat().map(([x]) => Math.abs(x)));
    const tall = Math.max(...shapes.flat().map(([, y]) => y));
    const scale = Math.min(320 / (2 * wide), 360 / tall);
    const drawn = (label) => blanks.map((blank, at) => [sized(blank, label), at])
      .filter(([size]) => size && size.outline.length);
    const shared = labels(blanks).filter((label) => drawn(label).length > 1);
    return (shared.length ? shared : labels(blanks)).map((label) => {
      const lines = drawn(label);
      if (!lines.length) return "";
      const reads = lines.map(([size, at]) => `${blanks[at].name} ${blanks[at].deciding
        .map((point) => size.says[point]).filter(Boolean).join(" by ")}`).join("; ");
      const shown = draw("svg", {
        viewBox: `${-160} ${-8} 320 ${Math.ceil(tall * scale) + 40}`, width: 320,
        height: Math.ceil(tall * scale) + 40, role: "img", "aria-label": `${label} to scale: ${reads}`,
      }, ...lines.map(([size, at]) => draw("polygon", {
        class: key(at),
        points: size.outline.map(([x, y]) => `${(x * scale).toFixed(1)},${(y * scale).toFixed(1)}`).join(" "),
      })), ...ruler(bar, scale, Math.ceil(tall * scale) + 20));
      return make("figure", { className: "panel" }, make("figcaption", {}, make("b", {}, label), ` ${reads}`), shown);
    });
  };

  const measures = (blanks) => labels(blanks).map((label) => {
    const points = new Map(blanks.flatMap((blank) => blank.points));
    const rows = [...points].filter(([point]) => blanks.some((blank) => sized(blank, label)?.says[point])).map(([point, name]) => [
      name,
      ...blanks.map((blank) => {
        const size = sized(blank, label);
        if (!size || !size.says[point]) return "–";
        const words = [size.says[point]];
        if (size.off[point]) words.push(under(`${size.off[point]}\u00a0off\u00a0chart`));
        if (size.saysWashed[point]) words.push(under(`${size.saysWashed[point]}\u00a0washed`));
        return words;
      }),
    ]);
    return { title: label, rows };
  }).filter((one) => one.rows.length);

  /* the size of another blank that is nearest, in tolerances over the deciding points */
  const stands = (size, other, state) => {
    const mine = size[state];
    const points = other.deciding.filter((point) => point in mine);
    let best = null;
    for (const theirs of other.sizes) {
      if (!points.length || !points.every((point) => point in theirs[state])) continue;
      const squares = points.map((point) => ((mine[point] - theirs[state][point]) / other.tolerance[point]) ** 2);
      const apart = Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length);
      if (!best || apart < best.apart) best = { label: theirs.label, apart };
    }
    if (!best) return "not known";
    if (best.apart > other.mostOff) return "none near";
    const far = best.apart < 1 ? "within the tolerance" : `${best.apart.toFixed(1)} tolerances off`;
    return [best.label, under(far)];
  };
  const instead = (blanks, state) => blanks[0].sizes.map((size) => [
    size.label, ...blanks.slice(1).map((other) => stands(size, other, state)),
  ]);

  const show = (blanks, missing) => {
    place.replaceChildren();
    if (missing.length) place.append(make("p", { className: "alarm" }, `Not in this catalogue: ${missing.join(", ")}.`));
    if (blanks.length < 2) {
      place.append(lead);
      return;
    }
    const heads = blanks.map((blank, at) => make("span", {}, swatch(at), " ",
      make("a", { href: place.dataset.up + blank.path }, blank.name)));
    const again = () => heads.map((head) => head.cloneNode(true));
    const facts = blanks[0].facts.map(([what], row) => [what, ...blanks.map((blank) => blank.facts[row][1])]);
    place.append(
      table("facts-caption", "What each is", ["what", ...again()],
        [["today", ...blanks.map((blank) => sign(blank.standing))], ...facts]),
      section("laid", "Sizes over each other", make("div", { className: "panels" }, ...panels(blanks))),
      section("numbers", "In numbers", table("numbers-caption",
        `Measured means as received, in ${place.dataset.unit}; below, how far off its own chart, and the mean after washing. – was not measured`, ["point", ...again()], measures(blanks))),
      section("instead", "Which size stands for which",
        table("instead-caption", `For each size of ${blanks[0].name}, as received`,
          [blanks[0].name, ...again().slice(1)], instead(blanks, "mm")),
        table("washed-caption", "The same after washing", [blanks[0].name, ...again().slice(1)], instead(blanks, "washed"))),
    );
  };

  const ready = () => {
    const wanted = keys();
    if (!wanted.every((one) => taken.has(one))) return;
    show(wanted.map((one) => taken.get(one)).filter(Boolean), wanted.filter((one) => !taken.get(one)));
  };
  self.blankbookTake = (blank) => {
    taken.set(blank.key, blank);
  };
  const ask = () => {
    for (const one of keys()) {
      if (taken.has(one)) continue;
      const script = make("script", { src: `${place.dataset.files}${one.split("/").map(encodeURIComponent).join("/")}.js` });
      script.addEventListener("load", ready);
      script.addEventListener("error", () => {
        taken.set(one, null);
        ready();
      });
      document.head.append(script);
    }
    ready();
  };
  addEventListener("hashchange", ask);
  ask();
})();
