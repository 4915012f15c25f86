// The rail graph in one setting: what each conductor carries, by plain search over the bonds that hold.

/** Data after a change (see changes.py): what has not changed in it is the very same object. */
function changed(before, change) {
  if ("is" in change) return change.is;
  if (change.runs) return change.runs.flatMap((run) => run.is ?? before.slice(run[0], run[0] + run[1]));
  const after = { ...before };
  for (const key of change.gone) delete after[key];
  for (const [key, one] of Object.entries(change.of)) after[key] = changed(after[key], one);
  return after;
}

/** Whether metal from one source to the other is a short: both phases, or both legs of one reverser or cab. */
function opposes(one, other) {
  if (one.leg === other.leg || one.kind === "unit" || other.kind === "unit") return false;
  if (one.kind === "fixed" && other.kind === "fixed") return true;
  return (one.cab || one.supply) === (other.cab || other.supply);
}

class Graph {
  constructor(data) {
    Object.assign(this, data);
    this.sourceOf = new Map(Object.entries(data.sources).map(([conductor, source]) => [Number(conductor), source]));
    this.beside = data.conductors.map(() => []);
    data.bonds.forEach(([one, other], number) => {
      this.beside[one].push([other, number]);
      this.beside[other].push([one, number]);
    });
    this.setting = Object.fromEntries(Object.entries(data.switches).map(([name, each]) => [name, each[0]]));
  }

  holds(number) {
    const when = this.bonds[number][3];
    return !when || this.setting[when[0]] === when[1];
  }

  /** For each conductor the numbers of the conductors with a source that it reaches. `joined` are pairs that wheels
   *  join. */
  reached(joined = []) {
    const group = new Int32Array(this.conductors.length).fill(-1);
    const extra = new Map();
    for (const [one, other] of joined) {
      if (!extra.has(one)) extra.set(one, []);
      if (!extra.has(other)) extra.set(other, []);
      extra.get(one).push(other);
      extra.get(other).push(one);
    }
    const groups = [];
    for (let start = 0; start < group.length; start++) {
      if (group[start] >= 0) continue;
      const queue = [start];
      const sources = [];
      group[start] = groups.length;
      for (const here of queue) {
        if (this.sourceOf.has(here)) sources.push(here);
        const next = this.beside[here].filter(([, number]) => this.holds(number)).map(([there]) => there);
        for (const there of [...next, ...(extra.get(here) ?? [])]) {
          if (group[there] < 0) {
            group[there] = groups.length;
            queue.push(there);
          }
        }
      }
      groups.push(sources);
    }
    return { group, groups };
  }

  /** What each conductor shows: the ink of the nearest source, `short` where two that oppose touch. */
  inks() {
    const near = this.nearest();
    const clashes = (one, other) => near[one].some((a) => near[other].some((b) => opposes(this.sourceOf.get(a), this.sourceOf.get(b))));
    const inks = near.map((sources) => inkOf(sources.map((one) => this.sourceOf.get(one))));
    this.bonds.forEach(([one, other], number) => {
      if (this.holds(number) && clashes(one, other)) inks[one] = inks[other] = "short";
    });
    return inks;
  }

  /** The sources that are fewest bonds away from each conductor; a unit is one for what nothing else reaches. */
  nearest() {
    const near = this.conductors.map(() => []);
    for (const units of [false, true])
      this.reach([...this.sourceOf.keys()].filter((at) => (this.sourceOf.get(at).kind === "unit") === units && !near[at].length), near);
    return near;
  }

  reach(edge, near) {
    for (const one of edge) near[one] = [one];
    while (edge.length) {
      const found = new Map();
      for (const here of edge) {
        for (const [there, number] of this.beside[here]) {
          if (near[there].length || !this.holds(number)) continue;
          if (!found.has(there)) found.set(there, new Set());
          near[here].forEach((source) => found.get(there).add(source));
        }
      }
      for (const [there, sources] of found) near[there] = [...sources];
      edge = [...found.keys()];
    }
  }

  /** The path from the nearest source to a conductor: [bond, conductor] pairs from the source on, or null. */
  pathTo(conductor) {
    const before = new Map([[conductor, null]]);
    const queue = [conductor];
    for (const here of queue) {
      if (this.sourceOf.has(here)) {
        const path = [];
        for (let at = here; before.get(at); at = before.get(at)[1]) path.push(before.get(at));
        return { source: here, path };
      }
      for (const [there, number] of this.beside[here]) {
        if (!before.has(there) && this.holds(number)) {
          before.set(there, [number, here]);
          queue.push(there);
        }
      }
    }
    return null;
  }
}

function inkOf(sources) {
  const kinds = new Set(sources.map(kindOf));
  if (!kinds.size) return "dead";
  if (kinds.size > 1) kinds.delete("unit");
  return kinds.size > 1 ? "short" : [...kinds][0];
}

function kindOf(source) {
  if (source.kind === "unit") return "unit";
  const leg = source.leg ? "two" : "one";
  return source.kind === "reverser" ? `turns-${leg}` : leg;
}
