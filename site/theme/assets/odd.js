/* Lengths as people say them, and what is odd about a reading: the rule of the terminal, in a page.
   `blankbookOdd(round)` gives both for one round, whose unit and tape are known. */
"use strict";
self.blankbookOdd = (round) => {
  /* lengths: a reading is kept as the text that the file will hold */
  const { tape } = round;
  const common = (a, b) => (b ? common(b, a % b) : a);
  const fraction = (count, parts) => {
    const whole = Math.floor(count / parts), rest = count % parts;
    if (!rest) return `${whole}`;
    const by = common(rest, parts);
    return `${whole ? `${whole} ` : ""}${rest / by}/${parts / by}`;
  };
  const mmOf = (text) => {
    const found = /^(?:(\d+(?:\.\d+)?)(?: |$))?(?:(\d+)\/(\d+))?$/.exec(text);
    return found ? (Number(found[1] || 0) + (found[2] ? found[2] / found[3] : 0)) * tape.mm : null;
  };
  const even = (value) => {
    const low = Math.floor(value);
    if (Math.abs(value - low - 0.5) > 1e-9) return Math.round(value);
    return low % 2 ? low + 1 : low;
  };
  const say = (mm) => {
    if (round.unit === "in") {
      const count = even(Math.abs(mm) / 25.4 * 16);
      return `${mm < 0 && count ? "-" : ""}${fraction(count, 16)} in`;
    }
    const size = Math.abs(mm) / 10; // a true half goes to the even tenth, as in the terminal
    const text = (size * 4 % 1 || size * 2 % 1 === 0 ? size : even(size * 10) / 10).toFixed(1);
    return `${mm < 0 && text !== "0.0" ? "-" : ""}${text} cm`;
  };
  const sayChange = (mm) => {
    const text = say(mm);
    return /^(-|0 |0\.0)/.test(text) ? text : `+${text}`;
  };

  /* what is odd about a reading: the same rule as in the terminal */
  const middle = (list) => {
    const sorted = [...list].sort((a, b) => a - b), at = Math.floor(sorted.length / 2);
    return sorted.length % 2 ? sorted[at] : (sorted[at - 1] + sorted[at]) / 2;
  };
  const expected = (target, siblings) => (siblings.length ? middle(siblings) : target.charted);
  const slip = (mm, wanted, target, others) => {
    const whole = round.unit === "in" ? 25.4 : 10;
    const digit = (value) => Math.trunc(value / whole) % 10;
    for (const count of [1, 2, 3]) {
      if (Math.abs(Math.abs(mm - wanted) - count * whole) <= 0.25 * whole) {
        return `is this a ${digit(mm)} or a ${digit(mm > wanted ? mm - count * whole : mm + count * whole)}?`;
      }
    }
    const read = Math.trunc(mm / whole), other = Number([...`${read}`].reverse().join(""));
    if (read !== other && Math.abs(mm + (other - read) * whole - wanted) <= target.tolerance) {
      return `is it ${other} and not ${read}?`;
    }
    if ([2.54, 1 / 2.54].some((ratio) => Math.abs(mm / wanted / ratio - 1) <= 0.03)) {
      return "was the other side of the tape read, inches for centimetres?";
    }
    for (const [name, length] of others) {
      if (Math.abs(mm - length) <= target.tolerance) return `it fits the ${name}: is this the right point?`;
    }
    return "";
  };
  const warnings = (mm, target, siblings, others) => {
    const wanted = expected(target, siblings);
    const count = siblings.length, byChance = count ? target.apart * Math.sqrt(1 + 1 / count) : 0;
    const limit = Math.max(target.tolerance, byChance);
    if (wanted === null || Math.abs(mm - wanted) <= limit + 1e-9) return [];
    const by = count ? "the others of its label" : "the chart";
    const said = [`${sayChange(mm - wanted)} against ${by} (${say(wanted)})`];
    const fits = Object.entries(target.beside)
      .map(([size, length]) => [Math.abs(mm - length), size])
      .filter(([off]) => off <= target.tolerance && off < Math.abs(mm - wanted))
      .sort((a, b) => a[0] - b[0]);
    if (fits.length) said.push(`it measures as ${fits[0][1]}: look at the label`);
    const found = slip(mm, wanted, target, others);
    if (found) said.push(found);
    return said;
  };

  return { fraction, mmOf, say, expected, warnings };
};
