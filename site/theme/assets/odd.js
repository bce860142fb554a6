/* Lengths as people say them, what was typed, and what is odd about it: the rules of the terminal,
   in a page. `blankbookOdd(round)` gives them for one round, read with `round.tape`. */
"use strict";
self.blankbookOdd = (round) => {
  /* A length is a whole number of the finest parts of a millimetre, so that sums of lengths compare
     exactly, as in the terminal. A reading is kept as the text that the file will hold. */
  const INCH = 5080000, CM = 2000000;
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
  const lengthOf = (text) => {
    const found = /^(?:(\d+(?:\.\d+)?)(?: |$))?(?:(\d+)\/(\d+))?$/.exec(text);
    return found ? Math.round((Number(found[1] || 0) + (found[2] ? found[2] / found[3] : 0)) * round.tape.whole) : null;
  };
  const even = (value) => {
    const low = Math.floor(value);
    if (Math.abs(value - low - 0.5) > 1e-9) return Math.round(value);
    return low % 2 ? low + 1 : low;
  };
  const sayIn = (length, inches) => {
    if (inches) {
      const count = even(Math.abs(length) / INCH * 16);
      return `${length < 0 && count ? "-" : ""}${fraction(count, 16)} in`;
    }
    const size = Number((Math.abs(length) / CM).toFixed(9)); // a true half goes to the even tenth, as in the terminal
    const text = (size * 4 % 1 || size * 2 % 1 === 0 ? size : even(size * 10) / 10).toFixed(1);
    return `${length < 0 && text !== "0.0" ? "-" : ""}${text} cm`;
  };
  const say = (length) => sayIn(length, round.tape.unit === "in");
  const sayChange = (length) => {
    const text = say(length);
    return /^(-|0 |0\.0)/.test(text) ? text : `+${text}`;
  };

  /* readings on another scale: all the way around, or in the other unit */
  const isOtherScale = (length, wanted) => 5 * length > 7 * wanted || 5 * wanted > 7 * length;
  const otherUnit = (many, few) => 20 * Math.abs(100 * many - 254 * few) <= 3 * 254 * few;
  const mistakenScale = (length, wanted, point) => {
    if (point.around && 5 * length > 8 * wanted && 4 * length <= 9 * wanted) return "around";
    if (round.tape.unit === "in") return otherUnit(length, wanted) ? "cm" : "";
    return 20 * Math.abs(254 * length - 100 * wanted) <= 3 * 100 * wanted ? "in" : "";
  };
  const sayMistakenScale = (slip, length, wanted) => {
    const number = (whole) => String(Number((length / whole).toPrecision(8)));
    if (slip === "around") {
      return `twice the expected width of ${say(wanted)}: measured all the way around? half of it is ${say(length / 2)}`;
    }
    if (slip === "cm") return `centimetres for inches? ${number(round.tape.whole)} cm is ${sayIn(length * 100 / 254, true)}`;
    return `inches for centimetres? ${number(CM)} in is ${sayIn(length * 254 / 100, false)}`;
  };
  const impossibleSlip = (length, wanted, point) => {
    let slip = wanted === null ? "" : mistakenScale(length, wanted, point);
    const inches = round.tape.unit === "in", meant = inches ? length * 100 / 254 : length * 254 / 100;
    if (!slip && meant >= point.least && meant <= point.most) slip = inches ? "cm" : "in";
    return slip ? sayMistakenScale(slip, length, wanted === null ? length : wanted) : "look at the tape once more";
  };

  /* what was typed: `20+5` and `205` are 20 5/8 on a tape of eighths, `562` is 56.2 cm */
  const held = (value, point, wanted, typed) => {
    const { step, says, unit, whole } = round.tape;
    const text = typed || written(value), length = Math.round(value * whole);
    if (length % step) return { wrong: `must be on a tape read to ${says} ${unit}, found ${text}` };
    if (length < point.least || length > point.most) {
      const wrong = `${point.name} must be between ${point.between.join(" and ")} in, found ${text}`;
      return { wrong, instead: impossibleSlip(length, wanted, point) };
    }
    return { text: written(value), length };
  };
  const ofDigits = (typed, point, wanted) => {
    const { width, parts, whole } = round.tape;
    const can = typed.length > 1 && typed[0] === "0" ? [] : [Number(typed)];
    const marks = Number(typed.slice(-width));
    if (width && marks < parts) can.push(Number(typed.slice(0, -width)) + marks / parts);
    const real = [...new Set(can)].filter((one) => one > 0).sort((a, b) => a - b);
    const exact = (one) => Math.round(one * whole);
    let fit = real.filter((one) => exact(one) >= point.least && exact(one) <= point.most);
    if (!fit.length) return held(real.length ? real[0] : Number(typed), point, wanted);
    if (fit.length > 1 && wanted !== null) {
      const off = (one) => Math.abs(exact(one) - wanted);
      const [near, far] = [...fit].sort((a, b) => off(a) - off(b));
      if (3 * off(near) <= off(far)) fit = [near];
    }
    if (fit.length > 1) return { wrong: `may mean ${fit.map(written).join(" or ")}, found ${typed}` };
    return held(fit[0], point, wanted);
  };
  const keyed = (typed, point, wanted) => {
    if (/^\d+$/.test(typed)) return ofDigits(typed, point, wanted);
    const { width, parts } = round.tape;
    const counted = /^(\d{1,3})\+(\d{1,2})$/.exec(typed);
    if (counted && (!width || Number(counted[2]) >= parts)) {
      return { wrong: `must count fewer than ${parts} marks behind the whole, found ${typed}` };
    }
    if (counted) return held(Number(counted[1]) + counted[2] / parts, point, wanted);
    if (!/^\d{1,4}\.\d{0,4}$/.test(typed)) return { wrong: typed ? `must be a length, found ${typed}` : "type a reading first" };
    if (/^0\d/.test(typed)) return { wrong: `must not begin with a zero, found ${typed.replace(/\.$/, "")}` };
    return held(Number(typed), point, wanted, typed.replace(/\.$/, ""));
  };

  /* what was read so far, by piece and point: a list of texts each, where "-" is not measured */
  const textsOf = (read, piece, point) => ((read[piece] || {})[point] || []).filter((one) => one !== "-");
  const texts = (read, at) => textsOf(read, round.pieces[at.piece][0], round.points[at.point].key);
  const firsts = (read, at, size) => round.pieces
    .filter(([, one], place) => place !== at.piece && one === size)
    .map(([name]) => textsOf(read, name, round.points[at.point].key)[0])
    .filter(Boolean);
  const sizeOf = (at) => round.pieces[at.piece][1];
  const target = (at) => round.targets[sizeOf(at)][round.points[at.point].key];
  /* the other pieces by their sizes, and whether one was confirmed outside what T-shirts measure */
  const earlier = (read, at, why) => {
    const [low, high] = target(at).span, { key } = round.points[at.point];
    const sizes = round.sizes.map((size) => [size, firsts(read, at, size).map(lengthOf)]);
    const wide = round.pieces.some(([name], place) => {
      const first = place !== at.piece && why[name] && textsOf(read, name, key)[0];
      return first && (lengthOf(first) < low || lengthOf(first) > high);
    });
    return { sizes, wide, here: round.sizes.indexOf(sizeOf(at)) };
  };
  const others = (at) => round.points
    .filter((one, place) => place !== at.point)
    .map((one) => [one.name, round.targets[sizeOf(at)][one.key].charted])
    .filter(([, length]) => length !== null);

  /* what is odd about a reading: the same rule as in the terminal */
  const middle = (list) => {
    const sorted = [...list].sort((a, b) => a - b), at = Math.floor(sorted.length / 2);
    return sorted.length % 2 ? sorted[at] : (sorted[at - 1] + sorted[at]) / 2;
  };
  const wanted = (read, at) => {
    const found = firsts(read, at, sizeOf(at)).map(lengthOf), { charted } = target(at);
    if (charted !== null) return charted;
    return found.length ? middle(found) : null;
  };
  const slip = (length, aimed, aim, point, fits) => {
    const whole = round.tape.unit === "in" ? INCH : CM;
    const read = Math.floor(length / whole), turned = Number([...`${read}`].reverse().join(""));
    const fit = (other) => other !== read && Math.abs(length + (other - read) * whole - aimed) <= aim.tolerance;
    if (fit(turned)) return `is it ${turned} and not ${read}?`;
    const scale = mistakenScale(length, aimed, point);
    if (scale) return sayMistakenScale(scale, length, aimed);
    for (const count of [1, 2, 3]) {
      if (4 * Math.abs(Math.abs(length - aimed) - count * whole) <= whole) {
        const meant = length > aimed ? read - count : read + count;
        return `is this a ${read % 10} or a ${(meant + 10) % 10}?`;
      }
    }
    for (const other of [read + 10, read - 10, read + 20, read - 20]) {
      if (other > 0 && fit(other)) return `is it ${other} and not ${read}?`;
    }
    for (const [name, charted] of fits) {
      if (Math.abs(length - charted) <= aim.tolerance) return `it fits the ${name}: is this the right point?`;
    }
    return "";
  };
  /* what it is compared with, how far off is far, and the words for it */
  const expectation = (aim, { sizes, here }) => {
    if (aim.charted !== null) return [aim.charted, aim.tolerance, "the chart"];
    const own = here < 0 ? [] : sizes[here][1];
    if (own.length) {
      const limit = Math.max(aim.tolerance, aim.apart * CM / 10 * Math.sqrt(1 + 1 / own.length));
      return [middle(own), limit, "the others of its label"];
    }
    const read = sizes.map(([, list], at) => [Math.abs(at - here), at, list])
      .filter(([, at, list]) => at !== here && list.length).sort((a, b) => a[0] - b[0]);
    if (!read.length || here < 0) return null;
    const [off, at, list] = read[0];
    return [middle(list) - (at - here) * aim.step, aim.tolerance + off * aim.step, `${sizes[at][0]} and the usual step`];
  };
  const farOff = (length, point, aim, before, fits) => {
    const against = (aimed, by) => `${sayChange(length - aimed)} against ${by} (${say(aimed)})`;
    if (aim.charted === null && aim.usual !== null && isOtherScale(length, aim.usual)) {
      const scale = mistakenScale(length, aim.usual, point);
      const said = against(aim.usual, `the usual ${before.sizes[before.here][0]}`);
      return scale ? [said, sayMistakenScale(scale, length, aim.usual)] : [said];
    }
    const found = expectation(aim, before);
    if (!found) {
      const [low, high] = aim.span;
      if ((length >= low && length <= high) || aim.usual !== null || before.wide) return [];
      return [`T-shirts measure between ${say(low)} and ${say(high)} there: is it right?`];
    }
    const [aimed, limit, by] = found, own = Math.abs(length - aimed);
    if (own <= limit) return [];
    const said = [against(aimed, by)];
    const nearer = aim.beside.map(([size, charted]) => [Math.abs(length - charted), size])
      .filter(([off]) => off <= aim.tolerance && off < own).sort((a, b) => a[0] - b[0]);
    if (nearer.length) said.push(`it measures as ${nearer[0][1]}: look at the label`);
    const why = slip(length, aimed, aim, point, fits);
    return why ? [...said, why] : said;
  };
  const asTheNext = (length, point, aim, { sizes, here }) => [-1, 1].flatMap((by) => {
    const [size, read] = (point.grows && here >= 0 && sizes[here + by]) || [null, []];
    const charted = (aim.beside.find(([one]) => one === size) || [null, null])[1];
    if (!read.length || (charted !== null && charted === aim.charted)) return [];
    const next = middle(read), grows = (next - length) * by;
    if (grows > 0) return [];
    const [as, less, more] = point.grows;
    if (!grows) return [`as ${as} as ${size} (${say(next)})`];
    return [`${by < 0 ? less : more} than ${size} (${say(next)})`];
  });
  const warnings = (length, read, at, why) => {
    const point = round.points[at.point], aim = target(at), before = earlier(read, at, why);
    const far = farOff(length, point, aim, before, others(at));
    return far.some((words) => words.startsWith("it measures as ")) ? far : [...far, ...asTheNext(length, point, aim, before)];
  };
  /* a repeat is compared with what was read before, and nothing else */
  const repeated = (length, before) => {
    const off = (one) => Math.abs(length - one);
    const far = before.reduce((a, b) => (off(b) > off(a) || (off(b) === off(a) && b > a) ? b : a));
    return off(far) > round.repeats * round.tape.step ? [`more than ${round.repeats} marks from ${say(far)}, read before`] : [];
  };

  /* what was typed for a cell: { text, odd }, or what is { wrong } with it and, maybe, what it is { instead };
     *why* has the words that confirm a piece, by its name */
  const look = (read, at, typed, again, why = {}) => {
    const before = texts(read, at).map(lengthOf);
    const likely = wanted(read, at);
    const found = keyed(typed, round.points[at.point], likely === null ? target(at).usual : likely);
    if (found.wrong) return found;
    const odd = again && before.length ? repeated(found.length, before) : warnings(found.length, read, at, why);
    return { ...found, odd };
  };
  /* what is odd about the first reading that a cell holds, by all that is there now */
  const oddNow = (read, at, why = {}) => texts(read, at).slice(0, 1).flatMap((text) => warnings(lengthOf(text), read, at, why));
  /* the same point in the size below, in this one and in the size above: what was read, else charted */
  const near = (read, at) => {
    const size = sizeOf(at), place = round.sizes.indexOf(size);
    return round.sizes.slice(Math.max(0, place - 1), place + 2).map((one) => {
      const found = firsts(read, at, one);
      const { charted } = round.targets[one][round.points[at.point].key];
      return { size: one, own: one === size, read: found, lengths: found.map(lengthOf), charted };
    });
  };

  /* in few words: what `near` gives of a size */
  const few = (one) => {
    const { unit } = round.tape;
    if (one.read.length > 3) {
      const sorted = one.read.map((text, n) => [one.lengths[n], text]).sort((a, b) => a[0] - b[0]);
      return `${sorted[0][1]} to ${sorted.at(-1)[1]} (${sorted.length})`;
    }
    if (one.read.length) return one.read.join("; ");
    if (one.charted === null) return "–";
    return `chart ${unit === "mm" ? Math.round(one.charted / round.tape.whole) : say(one.charted).replace(/ (in|cm)$/, "")}`;
  };

  return { fraction, written, say, texts, look, oddNow, near, few, wanted };
};
