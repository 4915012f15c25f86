// A train on the track: where its wheels are, which metal they join, and what that does.

/** How far a wheel's tread reaches over a joint to either side, in micrometers: about a millimeter. */
const TREAD = 1000;

class Train {
  constructor(track, graph) {
    this.track = track;
    this.graph = graph;
    this.turned = new Map(); // reversers whose legs have changed places
    this.from = new Map();
    for (const way of track.ways) {
      if (!this.from.has(way.enter)) this.from.set(way.enter, []);
      this.from.get(way.enter).push(way);
    }
    this.chain = [];
  }

  /** Puts a train on a way, its nose in the middle or as far on as it needs. */
  put(kind, way) {
    this.kind = kind;
    this.chain = [way];
    this.nose = Math.min(way.length, Math.max(way.length / 2, Math.min(kind.length, way.length)));
    this.turned.clear();
    return this.extend();
  }

  /** Makes sure that there is track under the whole train, behind it too, as the points stand. */
  extend() {
    while (this.nose - this.kind.length < 0) {
      const back = this.onward(this.reversed(this.chain[0]));
      if (!back) break;
      const way = this.reversed(back);
      this.chain.unshift(way);
      this.nose += way.length;
    }
    return true;
  }

  /** The way that follows as the points stand, or undefined. */
  onward(way) {
    const enter = this.track.beyond[way.leave];
    const ways = this.from.get(enter) ?? [];
    return ways.find(({ stands }) => !stands || this.graph.setting[stands[0]] === stands[1]);
  }

  reversed(way) {
    const same = (one) => one.leave === way.enter && String(one.stands) === String(way.stands);
    return (this.from.get(way.leave) ?? []).find(same) ?? way;
  }

  turnRound() {
    const total = this.chain.reduce((sum, way) => sum + way.length, 0);
    this.chain = this.chain.map((way) => this.reversed(way)).reverse();
    this.nose = total - this.nose + this.kind.length;
    this.extend();
  }

  /** Moves on by micrometers; says why where it cannot. */
  move(by) {
    let total = this.chain.reduce((sum, way) => sum + way.length, 0);
    const to = this.nose + by;
    while (to > total) {
      const last = this.chain[this.chain.length - 1];
      const next = this.onward(last);
      if (!next) {
        this.nose = total;
        return this.whyNot(last);
      }
      this.chain.push(next);
      total += next.length;
    }
    this.nose = Math.max(to, 0);
    if (by < 0) this.extend();
    else this.drop();
    return by < 0 && this.nose < this.kind.length && this.chain[0].length > 0 && this.nose <= 0 ? "The end of the track." : "";
  }

  /** Moves on notch by notch, and stops where something goes wrong that was right before. */
  run(by) {
    const turned = [];
    let wrong = this.meets().bad;
    for (let left = Math.abs(by); left > 0; left -= NOTCH) {
      const trouble = this.move(Math.sign(by) * Math.min(left, NOTCH));
      if (trouble) return { trouble, turned };
      const { bad, turns, words } = this.meets();
      if (turns) turned.push(words);
      if (bad && !wrong) break;
      wrong = bad;
    }
    return { trouble: "", turned };
  }

  whyNot(way) {
    const enter = this.track.beyond[way.leave];
    if (!enter) return "The end of the track.";
    const asked = (this.from.get(enter) ?? []).map(({ stands }) => stands && `${stands[0]} ${stands[1]}`);
    return asked.length ? `The points are set against it: here it needs ${asked.join(" or ")}.` : "No way on.";
  }

  /** Leaves out what lies behind the tail. */
  drop() {
    while (this.chain.length > 1 && this.nose - this.kind.length > this.chain[0].length) {
      this.nose -= this.chain.shift().length;
    }
  }

  /** The way under a place of the chain, and how far on it that is. */
  at(place) {
    let rest = Math.max(place, 0);
    for (const way of this.chain) {
      if (rest <= way.length) return { way, place: rest };
      rest -= way.length;
    }
    const way = this.chain[this.chain.length - 1];
    return { way, place: way.length };
  }

  /** The metals of one side under a wheel: two where it bridges a joint; -1 is none. */
  under(side, place) {
    const found = new Set();
    for (const spot of [place - TREAD, place, place + TREAD]) {
      const { way, place: on } = this.at(spot);
      const stretch = way[side].find(([start, stop]) => start <= on && on <= stop);
      if (stretch) found.add(stretch[2]);
    }
    return [...found];
  }

  wheels(side) {
    if (this.kind.kind === "engine") return this.kind[side].map((place) => this.nose - place);
    const places = [];
    for (let place = 0; place <= this.kind.length; place += 12_000) places.push(this.nose - place);
    return places;
  }

  /** What the wheels join: pairs of conductors; an engine's pickups on one side are one metal. */
  joined() {
    const pairs = [];
    for (const side of ["left", "right"]) {
      const under = this.wheels(side).map((place) => this.under(side, place).filter((one) => one >= 0));
      for (const metals of under) for (let n = 1; n < metals.length; n++) pairs.push([metals[0], metals[n]]);
      const flat = under.flat();
      if (this.kind.kind === "engine") for (let n = 1; n < flat.length; n++) pairs.push([flat[0], flat[n]]);
    }
    return pairs;
  }

  /** What happens where it stands: a short, a reverser that turns, a stall, or nothing. */
  meets() {
    const { group, groups } = this.graph.reached(this.joined());
    const turned = this.settle(groups);
    if (turned === null) return { bad: true, words: this.shortWords(groups) };
    if (turned.length) return { bad: false, turns: true, words: `${turned.join(" and ")} turns its polarity under the wheels.` };
    if (this.kind.kind !== "engine") return { bad: false, words: "Runs." };
    const live = (side) => this.wheels(side).some((place) => this.under(side, place).some((one) => one >= 0 && groups[group[one]].length));
    const dead = ["left", "right"].filter((side) => !live(side));
    if (dead.length) return { bad: true, words: `Stalls: its ${dead.join(" and ")} wheels stand on dead metal.` };
    return { bad: false, words: "Runs." };
  }

  shortWords(groups) {
    const sources = groups.map((group) => group.map((one) => this.graph.sourceOf.get(one))).find((group) => this.clash(group));
    const words = [...new Set(sources.map((one) => one.words))];
    return `Short: the wheels, or the metal under them, join ${words.join(" and ")}.`;
  }

  /** Turns reversers until nothing opposes: the names of those that turned now; null where none can help. */
  settle(groups) {
    const now = [];
    for (let round = 0; round < 8; round++) {
      const bad = groups.map((group) => group.map((one) => this.graph.sourceOf.get(one))).find((group) => this.clash(group));
      if (!bad) return now;
      const free = bad.map((one) => one.supply).find((name, n) => bad[n].kind === "reverser" && !now.includes(name));
      if (!free) return null;
      this.turned.set(free, !this.turned.get(free));
      now.push(free);
    }
    return null;
  }

  clash(sources) {
    return sources.some((one) => sources.some((other) => this.against(one, other)));
  }

  against(one, other) {
    if (one.kind === "unit" || other.kind === "unit") return false;
    const phase = (source) => (source.kind === "reverser" && this.turned.get(source.supply) ? 1 - source.leg : source.leg);
    return phase(one) !== phase(other);
  }
}
