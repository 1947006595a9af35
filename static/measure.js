/* Lengths and figures judged on the tablet, exactly: whole numbers over whole numbers, never decimals. */
"use strict";
globalThis.Studbay ??= {};
(() => {
  const gcd = (a, b) => { while (b) [a, b] = [b, a % b]; return a; };
  const ratio = (n, d) => { const g = gcd(n < 0n ? -n : n, d) || 1n; return { n: n / g, d: d / g }; };
  const plus = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
  const times = (a, k) => ratio(a.n * BigInt(k), a.d);

  /** ``2 1/2``, ``1/2``, ``2.5``, ``2``: null for anything else. */
  function number(text) {
    let sum = ratio(0n, 1n);
    for (const part of text.trim().split(/\s+/)) {
      let found;
      if ((found = /^(\d{1,9})\/(\d{1,9})$/.exec(part))) {
        if (BigInt(found[2]) === 0n) return null;
        sum = plus(sum, ratio(BigInt(found[1]), BigInt(found[2])));
      } else if ((found = /^(\d{0,9})(?:\.(\d{1,9}))?$/.exec(part)) && part !== "" && part !== ".") {
        const tail = found[2] ?? "";
        sum = plus(sum, ratio(BigInt((found[1] || "0") + tail), 10n ** BigInt(tail.length)));
      } else return null;
    }
    return sum;
  }

  const MARKS = [[/[′’]/g, "'"], [/[″”“]/g, '"'], [/–/g, "-"], [/\u00a0/g, " "], [/½/g, " 1/2"], [/¼/g, " 1/4"], [/¾/g, " 3/4"], [/⅛/g, " 1/8"], [/⅜/g, " 3/8"], [/⅝/g, " 5/8"], [/⅞/g, " 7/8"]];

  /** A length as the trade types it, in inches; null where it is none. The server reads it the same way. */
  function parse(text) {
    let plain = text.toLowerCase();
    for (const [mark, written] of MARKS) plain = plain.replace(mark, written);
    plain = plain.replace(/\s+/g, " ").trim();
    if (!plain || plain.length > 40) return null;
    let found;
    if ((found = /^([\d ./]+?)\s*(?:'|ft\.?|feet|foot)\s*-?\s*(?:([\d ./]+?)\s*(?:"|''|in\.?|inches|inch)?)?$/.exec(plain))) {
      const feet = number(found[1]), inches = found[2] ? number(found[2]) : ratio(0n, 1n);
      return feet && inches && plus(times(feet, 12), inches);
    }
    if ((found = /^(\d{1,9})\s*-\s*([\d ./]+?)\s*(?:"|''|in\.?)?$/.exec(plain))) {
      const inches = number(found[2]);
      return inches && plus(ratio(BigInt(found[1]) * 12n, 1n), inches);
    }
    if ((found = /^([\d ./]+?)\s*(?:"|''|in\.?|inches|inch)?$/.exec(plain))) return number(found[1]);
    return null;
  }

  /** Whether a measure meets a limit written as ``n/d``: true, false, or null where it cannot be read. */
  function enough(text, limit, least) {
    const measured = parse(text), edge = number(limit);
    if (!measured || !edge) return null;
    const left = measured.n * edge.d, right = edge.n * measured.d;
    return least ? left >= right : left <= right;
  }

  globalThis.Studbay.measure = { parse, enough, show: (value) => (value ? `${value.n}/${value.d}` : null) };
})();
