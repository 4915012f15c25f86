// The page: what was thrown, walked and driven, and news of the plan while it is written.

/** How far a notch of the slider takes a train, in micrometers. */
const NOTCH = 10_000;

class Page {
  constructor(data) {
    this.host = typeof acquireVsCodeApi === "function" ? acquireVsCodeApi() : null;
    this.start(data);
    this.tools();
    addEventListener("message", (event) => this.hear(event.data));
    if (data.follows) this.follow(data.follows, data.version ?? 0);
    this.say({ railbond: "ready" });
  }

  /** Shows a railroad. Points that were thrown stay as they are, as far as the plan still has them. */
  start(data, before = null, seen = null) {
    this.data = data;
    this.graph = new Graph(data.graph);
    for (const [name, position] of Object.entries(before ?? data.setting ?? {})) {
      if (this.graph.switches[name]?.includes(position)) this.graph.setting[name] = position;
    }
    this.drawing = new Drawing(byId("drawing"), this.graph, data.cells, {
      throwNext: (name) => this.throwNext(name),
      pointAt: (conductor) => this.pointAt(conductor),
      choose: (conductor, piece) => this.chooseRail(conductor, piece),
    }, seen);
    this.many = data.files.length > 1;
    this.finding = null;
    byId("walk").hidden = true;
    listFindings(data.findings, this.many, (number) => this.walk(number), this.host && ((at) => this.say({ railbond: "mend", at })));
    listPoints(data.graph.switches, (name, position) => this.throwTo(name, position));
    byId("verdict").textContent = verdict(data.findings);
    this.names();
    this.trains();
    this.paint();
  }

  paint() {
    showLegend(this.drawing.paint(), Object.values(this.graph.sources));
    showPoints(this.graph.setting);
    document.documentElement.dataset.setting = JSON.stringify(this.graph.setting);
  }

  throwNext(name) {
    const each = this.graph.switches[name];
    this.throwTo(name, each[(each.indexOf(this.graph.setting[name]) + 1) % each.length]);
    byId("rail").textContent = `${name} now stands ${this.graph.setting[name]}.`;
  }

  throwTo(name, position) {
    this.graph.setting[name] = position;
    this.paint();
    if (this.train?.kind) this.look();
    this.say({ railbond: "thrown", setting: this.graph.setting });
  }

  /** What feeds a rail, through which lines of the plan. */
  fedBy(conductor) {
    const name = this.graph.conductors[conductor];
    const found = this.graph.pathTo(conductor);
    if (!found) return `${name}: no power as the points stand.`;
    const places = found.path.map(([bond]) => lineWords(this.graph.bonds[bond][4], this.many)).filter(Boolean);
    const through = [...new Set(places)].join(", ");
    const source = this.graph.sourceOf.get(found.source);
    return `${name} carries ${source.words}${through ? `, through ${through}` : ""}.`;
  }

  pointAt(conductor) {
    byId("rail").textContent = this.fedBy(conductor);
  }

  chooseRail(conductor, piece) {
    this.pointAt(conductor);
    this.drawing.mark([conductor], "chosen", false);
    this.say({ railbond: "chosen", piece, at: this.data.pieces[piece] ?? null });
  }

  walk(number) {
    const one = this.data.findings[number];
    Object.assign(this.graph.setting, one.setting);
    this.paint();
    this.finding = number;
    this.step = 0;
    byId("walk").hidden = false;
    byId("findings").querySelectorAll("button").forEach((button, n) => button.setAttribute("aria-expanded", String(n === number)));
    this.showStep();
    this.say({ railbond: "finding", at: one.at });
  }

  showStep() {
    const { why, message } = this.data.findings[this.finding];
    const steps = [...why, { words: message, metal: [...new Set(why.flatMap((one) => one.metal))], at: null }];
    this.step = Math.min(Math.max(this.step, 0), steps.length - 1);
    const { words, metal, at } = steps[this.step];
    byId("step").textContent = `Step ${this.step + 1} of ${steps.length}: ${words}${at ? ` (${lineWords(at, this.many)})` : ""}`;
    this.drawing.mark(metal);
    byId("back").disabled = this.step === 0;
    byId("next").disabled = this.step === steps.length - 1;
  }

  leaveWalk() {
    byId("walk").hidden = true;
    this.finding = null;
    this.drawing.mark([]);
    byId("findings").querySelector("button")?.focus();
  }

  tools() {
    byId("back").addEventListener("click", () => { this.step -= 1; this.showStep(); });
    byId("next").addEventListener("click", () => { this.step += 1; this.showStep(); });
    byId("leave").addEventListener("click", () => this.leaveWalk());
    byId("larger").addEventListener("click", () => this.drawing.zoom(this.drawing.size * 1.25));
    byId("smaller").addEventListener("click", () => this.drawing.zoom(this.drawing.size / 1.25));
    byId("fit").addEventListener("click", () => this.drawing.fit());
    byId("print").addEventListener("click", () => print());
    byId("search").addEventListener("change", () => this.search(byId("search").value.trim()));
    byId("put").addEventListener("click", () => this.putTrain());
    byId("turn").addEventListener("click", () => { this.train.turnRound(); this.look(); });
    byId("drive").addEventListener("input", () => this.drive());
  }

  names() {
    const pieces = new Set(this.drawing.rails.map((path) => path.dataset.p));
    byId("names").replaceChildren(...[...pieces].map((name) => made("option", "", { value: name })));
  }

  /** Finds a piece by its name, or a line by its number. */
  search(words) {
    const line = /^(?:line )?(\d+)$/.exec(words);
    const rails = line ? this.ofLine(Number(line[1])) : this.ofPiece(words);
    this.drawing.mark(rails, "chosen");
    if (!line) this.drawing.ring(words);
    const told = rails.slice(0, 6).map((one) => this.fedBy(one)).join(" ");
    byId("rail").textContent = rails.length ? told : `Nothing here is called ${words}.`;
  }

  ofPiece(name) {
    const found = this.drawing.rails.filter((path) => path.dataset.p === name || path.dataset.p?.startsWith(`${name}.`));
    return [...new Set(found.map((path) => Number(path.dataset.c)))];
  }

  ofLine(line, path = null) {
    const here = this.graph.bonds.filter((bond) => bond[4] && bond[4][1] === line && (!path || bond[4][0] === path));
    return [...new Set(here.flatMap(([one, other]) => [one, other]))];
  }

  trains() {
    const { trains, ways } = this.data.track;
    this.kinds = trains.length ? trains : [{ name: "a car, 20 cm, metal wheels", kind: "train", length: 200_000 }];
    this.train = new Train(this.data.track, this.graph);
    byId("train").replaceChildren(...this.kinds.map((one, number) => made("option", one.name, { value: number })));
    const starts = [...new Set(ways.map((way) => way.piece))];
    byId("from").replaceChildren(...starts.map((name) => made("option", name, { value: name })));
    byId("drive").disabled = byId("turn").disabled = true;
    byId("put").disabled = !starts.length;
    byId("cab").textContent = "";
  }

  putTrain() {
    const kind = this.kinds[Number(byId("train").value)];
    const way = this.data.track.ways.find((one) => one.piece === byId("from").value && (!one.stands || this.graph.setting[one.stands[0]] === one.stands[1]));
    if (!way) return;
    this.train.put(kind, way);
    byId("drive").disabled = byId("turn").disabled = false;
    byId("drive").value = 0;
    this.driven = 0;
    this.look();
    byId("drive").focus();
  }

  /** The slider is the regulator: each notch is a centimeter, to and fro. */
  drive() {
    const now = Number(byId("drive").value);
    const { trouble, turned } = this.train.run((now - this.driven) * NOTCH);
    this.driven = now;
    if (now === 1000) byId("drive").value = this.driven = 0;
    this.look([...turned, trouble].filter(Boolean).join(" "));
  }

  look(told = "") {
    const { bad, words } = this.train.meets();
    this.drawing.show(this.train, bad);
    const { way } = this.train.at(this.train.nose);
    byId("cab").textContent = `On ${way.piece}. ${[told, told && !bad ? "" : words].filter(Boolean).join(" ")}`;
    byId("cab").classList.toggle("bad", bad);
  }

  say(message) {
    this.host?.postMessage(message);
  }

  /** A word from the editor that shows this page. */
  hear(message) {
    if (message?.railbond === "shown") this.renew(message.shown);
    if (message?.railbond === "stale") this.stale(message.words);
    if (message?.railbond === "cursor") this.drawing.mark(this.ofLine(message.line, message.path), "chosen");
    if (message?.railbond === "throw" && this.graph.switches[message.name]) this.throwNext(message.name);
  }

  renew(shown) {
    const seen = this.drawing.seen();
    const parsed = new DOMParser().parseFromString(shown.svg, "image/svg+xml");
    byId("drawing").replaceChildren(document.importNode(parsed.documentElement, true));
    byId("sheets").replaceChildren(...new DOMParser().parseFromString(shown.sheets ?? "", "text/html").body.children);
    byId("words").replaceChildren(...(shown.words ?? []).map((words) => made("li", words)));
    document.title = shown.title;
    document.querySelector("h1").textContent = shown.title;
    this.stale("");
    this.start(shown, this.graph.setting, seen);
  }

  stale(words, findings = null) {
    byId("banner").hidden = !words;
    byId("banner").textContent = words;
    if (findings) listFindings(findings, true, () => undefined);
  }

  /** Asks for news, again and again: the answer comes when there is some. */
  async follow(address, version) {
    for (;;) {
      try {
        const answer = await fetch(`${address}?after=${version}`, { cache: "no-store" });
        if (!answer.ok) throw new Error(String(answer.status));
        const news = await answer.json();
        if (news.version !== version) {
          version = news.version;
          if (news.shown) this.renew(news.shown);
          else this.stale(news.stale, news.findings);
        }
      } catch {
        this.stale("railbond does not answer any more: this is the railroad as it was.");
        await new Promise((resolve) => setTimeout(resolve, 3000));
      }
    }
  }
}

new Page(JSON.parse(byId("data").textContent));
