/* Lengths as people say them, what was typed, and what is odd about it: the rules of the terminal,
   in a page. `blankbookOdd(round)` gives them for one round, read with `round.tape`. */
"use strict";
self.blankbookOdd = (round) => {
  /* lengths: a reading is kept as the text that the file will hold */
  const common = (a, b) => (b ? common(b, a % b) : a);
  const fraction = (count, parts) => {
    const whole = Math.floor(count / parts), rest = count % parts;
    if (!rest) return `${whole}`;
    const by = common(rest, parts);
    return `${whole ? `${whole} ` : ""}${rest / by}/${parts / by}`;
  };
  const written = (value) => {
    const parts = round.tape.unit === "in" && [1, 2, 4, 8, 16, 32].find((one) => value * one % 1 === 0);
    return parts ? fraction(value * parts, parts) : String(Number(value.toPrecision(6)));
  };
  const mmOf = (text) => {
    const found = /^(?:(\d+(?:\.\d+)?)(?: |$))?(?:(\d+)\/(\d+))?$/.exec(text);
    return found ? (Number(found[1] || 0) + (found[2] ? found[2] / found[3] : 0)) * round.tape.mm : null;
  };
  const even = (value) => {
    const low = Math.floor(value);
    if (Math.abs(value - low - 0.5) > 1e-9) return Math.round(value);
    return low % 2 ? low + 1 : low;
  };
  const say = (mm) => {
    if (round.tape.unit === "in") {
      const count = even(Math.abs(mm) / 25.4 * 16);
      return `${mm < 0 && count ? "-" : ""}${fraction(count, 16)} in`;
    }
    const size = Number((Math.abs(mm) / 10).toFixed(9)); // a true half goes to the even tenth, as in the terminal
    const text = (size * 4 % 1 || size * 2 % 1 === 0 ? size : even(size * 10) / 10).toFixed(1);
    return `${mm < 0 && text !== "0.0" ? "-" : ""}${text} cm`;
  };
  const sayChange = (mm) => {
    const text = say(mm);
    return /^(-|0 |0\.0)/.test(text) ? text : `+${text}`;
  };

  /* what was typed: `20+5` and `205` are 20 5/8 on a tape of eighths, `562` is 56.2 cm */
  const held = (value, point, typed) => {
    const { step, says, unit } = round.tape;
    const text = typed || written(value), mm = value * round.tape.mm;
    if (Math.abs(value / step - Math.round(value / step)) > 1e-6) {
      return { wrong: `must be on a tape read to ${says} ${unit}, found ${text}` };
    }
    if (mm < point.least - 1e-6 || mm > point.most + 1e-6) {
      return { wrong: `${point.name} must be between ${point.between.join(" and ")} in, found ${text}` };
    }
    return { text: written(value), mm };
  };
  const ofDigits = (typed, point, wanted) => {
    const { width, parts, mm } = round.tape;
    const can = typed.length > 1 && typed[0] === "0" ? [] : [Number(typed)];
    const marks = Number(typed.slice(-width));
    if (width && marks < parts) can.push(Number(typed.slice(0, -width)) + marks / parts);
    const real = [...new Set(can)].filter((one) => one > 0).sort((a, b) => a - b);
    let fit = real.filter((one) => one * mm >= point.least - 1e-6 && one * mm <= point.most + 1e-6);
    if (!fit.length) return held(real.length ? real[0] : Number(typed), point);
    if (fit.length > 1 && wanted !== null) {
      const off = (one) => Math.abs(one - wanted / mm);
      const [near, far] = [...fit].sort((a, b) => off(a) - off(b));
      if (3 * off(near) <= off(far)) fit = [near];
    }
    if (fit.length > 1) return { wrong: `may mean ${fit.map(written).join(" or ")}, found ${typed}` };
    return held(fit[0], point);
  };
  const keyed = (typed, point, wanted) => {
    if (/^\d+$/.test(typed)) return ofDigits(typed, point, wanted);
    const { width, parts } = round.tape;
    const counted = /^(\d{1,3})\+(\d{1,2})$/.exec(typed);
    if (counted && (!width || Number(counted[2]) >= parts)) {
      return { wrong: `must count fewer than ${parts} marks behind the whole, found ${typed}` };
    }
    if (counted) return held(Number(counted[1]) + counted[2] / parts, point);
    if (!/^\d{1,4}\.\d{0,4}$/.test(typed)) return { wrong: typed ? `must be a length, found ${typed}` : "type a reading first" };
    if (/^0\d/.test(typed)) return { wrong: `must not begin with a zero, found ${typed.replace(/\.$/, "")}` };
    return held(Number(typed), point, typed.replace(/\.$/, ""));
  };

  /* what was read so far, by piece and point: a list of texts each, where "-" is not measured */
  const textsOf = (read, piece, point) => ((read[piece] || {})[point] || []).filter((one) => one !== "-");
  const texts = (read, at) => textsOf(read, round.pieces[at.piece][0], round.points[at.point].key);
  const firsts = (read, at, size) => round.pieces
    .filter(([, one], place) => place !== at.piece && one === size)
    .map(([name]) => textsOf(read, name, round.points[at.point].key)[0])
    .filter(Boolean);
  const siblings = (read, at) => firsts(read, at, round.pieces[at.piece][1]).map(mmOf);
  const target = (at) => round.targets[round.pieces[at.piece][1]][round.points[at.point].key];
  const others = (at) => round.points
    .filter((one, place) => place !== at.point)
    .map((one) => [one.name, round.targets[round.pieces[at.piece][1]][one.key].charted])
    .filter(([, mm]) => mm !== null);

  /* what is odd about a reading: the same rule as in the terminal */
  const middle = (list) => {
    const sorted = [...list].sort((a, b) => a - b), at = Math.floor(sorted.length / 2);
    return sorted.length % 2 ? sorted[at] : (sorted[at - 1] + sorted[at]) / 2;
  };
  const noise = 1e-6; // mm, so that no sum of lengths decides a reading on a border
  const expected = (aim, beside) => (beside.length ? middle(beside) : aim.charted);
  const slip = (mm, wanted, aim, fits) => {
    const whole = round.tape.unit === "in" ? 25.4 : 10;
    const wholes = (value) => Math.trunc((value + noise) / whole);
    for (const count of [1, 2, 3]) {
      if (Math.abs(Math.abs(mm - wanted) - count * whole) <= 0.25 * whole + noise) {
        const meant = mm > wanted ? mm - count * whole : mm + count * whole;
        return `is this a ${wholes(mm) % 10} or a ${wholes(meant) % 10}?`;
      }
    }
    const read = wholes(mm), other = Number([...`${read}`].reverse().join(""));
    if (read !== other && Math.abs(mm + (other - read) * whole - wanted) <= aim.tolerance + noise) {
      return `is it ${other} and not ${read}?`;
    }
    if ([2.54, 1 / 2.54].some((ratio) => Math.abs(mm / wanted / ratio - 1) <= 0.03)) {
      return "was the other side of the tape read, inches for centimetres?";
    }
    for (const [name, length] of fits) {
      if (Math.abs(mm - length) <= aim.tolerance + noise) return `it fits the ${name}: is this the right point?`;
    }
    return "";
  };
  const warnings = (mm, aim, beside, fits) => {
    const wanted = expected(aim, beside);
    const count = beside.length, byChance = count ? aim.apart * Math.sqrt(1 + 1 / count) : 0;
    const limit = Math.max(aim.tolerance, byChance);
    if (wanted === null || Math.abs(mm - wanted) <= limit + noise) return [];
    const by = count ? "the others of its label" : "the chart";
    const said = [`${sayChange(mm - wanted)} against ${by} (${say(wanted)})`];
    const nearer = aim.beside
      .map(([size, length]) => [Math.abs(mm - length), size])
      .filter(([off]) => off <= Math.min(aim.tolerance + noise, Math.abs(mm - wanted) - noise))
      .sort((a, b) => Math.abs(a[0] - b[0]) > noise && a[0] - b[0]);
    if (nearer.length) said.push(`it measures as ${nearer[0][1]}: look at the label`);
    const found = slip(mm, wanted, aim, fits);
    if (found) said.push(found);
    return said;
  };
  /* a repeat is held against what was read before, and nothing else */
  const repeated = (mm, before) => {
    const off = (one) => Number(Math.abs(mm - one).toFixed(6));
    const far = before.reduce((a, b) => (off(b) > off(a) || (off(b) === off(a) && b > a) ? b : a));
    const marks = round.repeats * round.tape.step * round.tape.mm;
    return off(far) > marks + 1e-6 ? [`more than ${round.repeats} marks from ${say(far)}, read before`] : [];
  };

  /* what was typed for a cell: { text, mm, odd }, or what is { wrong } with it */
  const look = (read, at, typed, again) => {
    const beside = siblings(read, at), before = texts(read, at).map(mmOf);
    const found = keyed(typed, round.points[at.point], expected(target(at), beside));
    if (found.wrong) return found;
    const odd = again && before.length ? repeated(found.mm, before)
      : warnings(found.mm, target(at), beside, others(at));
    return { ...found, odd };
  };
  /* what is odd about the first reading that a cell holds, by all that is there now */
  const oddNow = (read, at) => texts(read, at).slice(0, 1)
    .flatMap((text) => warnings(mmOf(text), target(at), siblings(read, at), others(at)));
  /* the same point in the size below, in this one and in the size above: what was read, else charted */
  const near = (read, at) => {
    const size = round.pieces[at.piece][1], place = round.sizes.indexOf(size);
    return round.sizes.slice(Math.max(0, place - 1), place + 2).map((one) => {
      const found = firsts(read, at, one);
      const { charted } = round.targets[one][round.points[at.point].key];
      return { size: one, own: one === size, read: found, lengths: found.map(mmOf), charted };
    });
  };
  const wanted = (read, at) => expected(target(at), siblings(read, at));

  return { fraction, written, mmOf, say, texts, look, oddNow, near, wanted, warnings };
};
