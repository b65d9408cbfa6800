// What somebody typed against the entries of the book: codes apart, other words, the rarest word.
// It knows no page: Node runs it too. What it says stands in the book's data.
const MOST = 5; // entries of a group
const NEAR = 0.45; // share of the best score down to which an entry is still near
const FAR = 0.25; // share of the best score of all below which a procedure is not named
const MOST_WAYS = 12; // ways to write what was typed that are tried
const PROCEDURES_FIRST = 1.25; // a procedure stands before what is only a little nearer

/** A text without accents and case. */
export function plain(text) {
  return text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
}

// "P 0411", "p-0411", "PO411" and "0411" are P0411. A bare number needs four digits.
const CODE = /(?<![a-z0-9])([pbcu])\s*-?\s*([0o][0-9o][0-9a-fo]{2}|[0-3][0-9a-f]{3})(?![a-z0-9])/g;
const BARE = /(?<![a-z0-9.])(0[0-9]{3}|[123][0-9]{3})(?![a-z0-9.])/g;

/** The codes of a text, and the text without them. */
export function codesOf(text) {
  const codes = [];
  const take = (_, letter, digits) => {
    codes.push((letter + digits.replaceAll("o", "0")).toUpperCase());
    return " ";
  };
  const rest = plain(text).replace(CODE, take);
  const left = rest.replace(BARE, (whole, digits) => (rest.trim() === whole.trim() || digits.startsWith("0") ? take(whole, "p", digits) : whole));
  return { codes: [...new Set(codes)], rest: left.trim() };
}

// "hums" is found as "hum", "batteries" as "battery".
function stem(word) {
  if (/[a-z]{3,}ies$/.test(word)) return `${word.slice(0, -3)}y`;
  return /[a-z]{2,}[^su]s$/.test(word) ? word.slice(0, -1) : word;
}

function tokens(text) {
  return plain(text).split(/[^a-z0-9.]+/).map((word) => word.replace(/^\.+|\.+$/g, "")).filter(Boolean);
}

// Whether two words differ by one letter: another one, one more, one less, or two changed over.
function oneAway(one, two) {
  if (Math.abs(one.length - two.length) > 1) return false;
  let at = 0;
  while (at < one.length && one[at] === two[at]) at += 1;
  const rests = [one.slice(at + 1) === two.slice(at + 1), one.slice(at) === two.slice(at + 1), one.slice(at + 1) === two.slice(at)];
  return rests.some(Boolean) || (one[at] === two[at + 1] && one[at + 1] === two[at] && one.slice(at + 2) === two.slice(at + 2));
}

const FIELDS = ["t", "w", "b"];
const BOOST = { t: 3, w: 2.5, b: 1 };
const WEIGHT = { procedure: 1.8, complaint: 1.5, codes: 0.7, fault: 0.8, part: 0.9, test: 0.9, tool: 0.6, calculator: 1.1, car: 1.3, page: 0.9 };

/** The entries of a book, ready to be asked. */
export class SearchIndex {
  constructor(MiniSearch, first) {
    this.first = first;
    this.small = new Set(first.small);
    this.entries = [];
    this.words = Object.entries(first.words)
      .map(([word, others]) => ({ word: tokens(word).map(stem).join(" "), others }))
      .sort((one, two) => two.word.length - one.word.length);
    this.other = new Set(this.words.flatMap(({ word }) => word.split(" ")));
    this.index = new MiniSearch({
      fields: FIELDS,
      idField: "id",
      tokenize: tokens,
      processTerm: (term) => stem(term),
      searchOptions: { boost: BOOST, prefix: (term) => term.length >= 3, fuzzy: (term) => (term.length >= 5 ? 1 : false), combineWith: "OR" },
    });
    this.add(first.entries);
  }

  add(entries) {
    const start = this.entries.length;
    this.entries.push(...entries);
    this.index.addAll(entries.map((entry, at) => ({ id: start + at, t: entry.t, w: entry.w ?? "", b: entry.b ?? "" })));
  }

  // What was typed with the words of the book in place of those that people use; the longest first.
  variants(text) {
    let found = [tokens(text).map((word) => this.spelled(stem(word))).join(" ")];
    for (const { word, others } of this.words) {
      const whole = new RegExp(`(^| )${word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}(?= |$)`);
      found = found.flatMap((each) => (whole.test(each) ? [each, ...others.map((other) => each.replace(whole, `$1\u0001${tokens(other).join("\u0001")}`))] : [each])).slice(0, MOST_WAYS);
    }
    return found.map((each) => each.replaceAll("\u0001", " ").trim().split(/\s+/).filter(Boolean));
  }

  // A long word that the book does not have, by the nearest one that it has.
  spelled(word) {
    if (word.length < 5 || this.other.has(word) || this.index.search(word, { fuzzy: false }).length) return word;
    const [near] = this.index.search(word, { prefix: false });
    return near?.terms[0] ?? this.nearest(word);
  }

  // The nearest of the words that people use, one letter away.
  nearest(word) {
    return [...this.other].find((other) => other.length >= 5 && oneAway(word, other)) ?? word;
  }

  telling(words) {
    const found = words.filter((word) => !this.small.has(word));
    return found.length ? found : words;
  }

  // The entries that have a word, by id with their scores.
  having(word) {
    return new Map(this.index.search(word).map(({ id, score }) => [id, score]));
  }

  // Scores of the entries for one way to write the words. The rarest word that the book has must match.
  scores(words) {
    const each = words.map((word) => ({ word, found: this.having(word) }));
    const known = each.filter(({ found }) => found.size);
    const unknown = each.filter(({ found }) => !found.size).map(({ word }) => word);
    if (!known.length) return { scores: new Map(), unknown };
    const rarest = known.reduce((one, two) => (two.found.size < one.found.size ? two : one));
    const total = new Map();
    // A word that is everywhere tells little once a telling one is not in the book at all.
    if (unknown.length && rarest.found.size > this.entries.length / 25) return { scores: total, unknown };
    for (const id of rarest.found.keys()) {
      let sum = 0;
      let matched = 0;
      for (const { found } of known) {
        const score = found.get(id);
        if (score === undefined) continue;
        matched += 1;
        sum += score;
      }
      total.set(id, sum * (matched / words.length) ** 2 * (WEIGHT[this.entries[id].k] ?? 1));
    }
    return { scores: total, unknown };
  }

  /**
   * What is found: codes with their procedures, procedures with the reason, the other kinds, and
   * the words that the book does not have.
   * @param {string} text
   * @param {(procedure: string) => boolean} [serves] whether a procedure serves the chosen car
   */
  find(text, serves = () => false) {
    const { codes, rest } = codesOf(text);
    const scores = new Map();
    let unknown = null;
    if (rest) {
      for (const words of this.variants(rest)) {
        const found = this.scores(this.telling(words));
        if (unknown === null || found.unknown.length < unknown.length) unknown = found.unknown;
        for (const [id, score] of found.scores) scores.set(id, Math.max(score, scores.get(id) ?? 0));
      }
    }
    const known = codes.filter((code) => Object.hasOwn(this.first.codes, code));
    return {
      codes: known,
      strange: codes.filter((code) => !known.includes(code)),
      groups: this.ordered(this.procedures(scores, known, serves), this.groups(scores)),
      unknown: unknown ?? [],
    };
  }

  // The groups by their best entry; procedures that have the code stand first.
  ordered(procedures, groups) {
    const best = Math.max(0, ...groups.map(({ entries }) => entries[0].score));
    const near = procedures.filter((each) => each.codes.length || each.score >= best * FAR);
    if (!near.length) return groups;
    const first = { kind: "procedure", entries: near };
    if (near[0].codes.length || near[0].score * PROCEDURES_FIRST >= best) return [first, ...groups];
    return [groups[0], first, ...groups.slice(1)];
  }

  // A procedure counts by its best entry and a little by the others; codes come before words.
  procedures(scores, codes, serves) {
    const found = new Map();
    for (const [id, score] of scores) {
      const { p } = this.entries[id];
      if (!p) continue;
      const had = found.get(p) ?? { procedure: p, score: 0, best: 0, why: null, codes: [] };
      had.score += score * 0.04;
      if (score > had.best) Object.assign(had, { best: score, why: this.entries[id] });
      found.set(p, had);
    }
    for (const each of found.values()) each.score += each.best;
    for (const code of codes) {
      const listed = this.first.codes[code].p;
      for (const p of listed) {
        const had = found.get(p) ?? { procedure: p, score: 0, best: 0, why: null, codes: [] };
        had.codes.push(code);
        had.score += (listed.length - listed.indexOf(p)) / listed.length;
        found.set(p, had);
      }
    }
    const all = [...found.values()].filter((each) => !codes.length || each.codes.length);
    const best = Math.max(0, ...all.map(({ score }) => score));
    return all
      .filter((each) => each.codes.length || each.score >= best * NEAR)
      .sort((one, two) => two.codes.length - one.codes.length || serves(two.procedure) - serves(one.procedure) || two.score - one.score)
      .slice(0, MOST + codes.length);
  }

  groups(scores) {
    const kinds = new Map();
    const ranked = [...scores].sort((one, two) => two[1] - one[1]);
    const best = ranked[0]?.[1] ?? 0;
    for (const [id, score] of ranked) {
      const entry = this.entries[id];
      if (["procedure", "complaint", "codes"].includes(entry.k)) continue;
      const kind = ["part", "fault", "tool"].includes(entry.k) ? "part" : entry.k;
      const had = kinds.get(kind) ?? [];
      if (had.length >= MOST || (score < best * NEAR && had.length)) continue;
      if (had.some((other) => other.entry.t === entry.t && other.entry.to === entry.to)) continue;
      had.push({ entry, score });
      kinds.set(kind, had);
    }
    return [...kinds].map(([kind, entries]) => ({ kind, entries })).sort((one, two) => two.entries[0].score - one.entries[0].score);
  }
}

/** The sections of a full text that have all the telling words. */
export function inText(entries, text, small) {
  const words = tokens(text).map(stem).filter((word) => !small.has(word));
  if (!words.length) return [];
  return entries.filter((entry) => {
    const whole = plain(`${entry.t} ${entry.b}`);
    return words.every((word) => whole.includes(word));
  });
}

/** A piece of a text around the first word that was typed. */
export function around(text, typed, most = 140) {
  const words = tokens(typed);
  const at = Math.max(0, Math.min(...words.map((word) => plain(text).indexOf(stem(word))).filter((place) => place >= 0)));
  const start = Number.isFinite(at) ? Math.max(0, at - 40) : 0;
  return `${start ? "… " : ""}${text.slice(start, start + most)}${start + most < text.length ? " …" : ""}`;
}
