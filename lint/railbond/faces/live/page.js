// The page: what was thrown, walked and driven, and news of the plan while it is written.

/** How far a notch of the slider takes a train, in micrometers. */
const NOTCH = 10_000;

class Page {
  constructor(data) {
    this.host = typeof acquireVsCodeApi === "function" ? acquireVsCodeApi() : null;
    this.drawing = new Drawing(byId("drawing"), {
      throwNext: (name) => this.throwNext(name),
      pointAt: (conductor) => this.pointAt(conductor),
      choose: (conductor, piece) => this.chooseRail(conductor, piece),
      walk: (number) => this.walk(number),
    });
    this.hauling = new Hauling(this);
    this.show({ ...data, marks: this.drawing.marks }, {}, data.setting ?? {});
    this.drawing.begin(["error", "warning", "note"].map((level) => data.findings.findIndex((one) => one.level === level)));
    this.tools();
  }

  /** Shows a railroad, as far as it is another than before. Points that were thrown stay as they are, as far as the plan
   *  still has them. */
  show(data, before, setting) {
    const isNew = (...names) => names.some((name) => data[name] !== before[name]);
    this.data = data;
    this.many = data.files.length > 1;
    if (isNew("graph")) this.take(data.graph, setting);
    if (isNew("graph", "marks", "cells")) this.drawing.start(this.graph, data.cells);
    if (isNew("graph", "findings", "files")) this.tell(data.findings);
    byId("verdict").textContent = verdict(data.findings, data.unexplained);
    if (data.graph.switches !== before.graph?.switches) listPoints(data.graph.switches, (name, position) => this.throwTo(name, position));
    if (isNew("marks")) this.names();
    if (isNew("kinds")) showKeys(data.kinds);
    if (isNew("graph", "track")) this.trains();
    if (isNew("graph", "marks")) this.paint();
    if (isNew("graph", "marks")) this.markAgain();
  }

  take(data, setting) {
    this.graph = new Graph(data);
    for (const [name, position] of Object.entries(setting)) {
      if (this.graph.switches[name]?.includes(position)) this.graph.setting[name] = position;
    }
    this.say({ railbond: "thrown", setting: this.graph.setting });
  }

  tell(findings) {
    this.finding = null;
    byId("walk").hidden = true;
    byId("findings").after(byId("walk"));
    listFindings(findings, this.many, (number) => this.walk(number), this.host && ((at) => this.say({ railbond: "mend", at })));
  }

  /** What was marked: the step of a finding that is walked, or the cursor's line. */
  markAgain() {
    if (this.finding !== null) this.showStep();
    else this.drawing.mark(this.cursor ? this.ofLine(this.cursor.line, this.cursor.path) : [], "chosen", false);
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
    const through = linesWords(found.path.map(([bond]) => this.graph.bonds[bond][4]), this.many);
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
    const buttons = byId("findings").querySelectorAll(".finding");
    buttons.forEach((button, n) => button.setAttribute("aria-expanded", String(n === number)));
    buttons[number].after(byId("walk"));
    byId("walk").hidden = false;
    this.showStep();
    if (matchMedia("(min-width: 861px)").matches) byId("walk").scrollIntoView({ block: "nearest" });
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
    const walked = byId("findings").querySelectorAll(".finding")[this.finding];
    this.finding = null;
    this.drawing.mark([]);
    walked?.setAttribute("aria-expanded", "false");
    walked?.focus();
  }

  tools() {
    byId("back").addEventListener("click", () => { this.step -= 1; this.showStep(); });
    byId("next").addEventListener("click", () => { this.step += 1; this.showStep(); });
    byId("leave").addEventListener("click", () => this.leaveWalk());
    byId("larger").addEventListener("click", () => this.drawing.zoom(this.drawing.size * 1.25));
    byId("smaller").addEventListener("click", () => this.drawing.zoom(this.drawing.size / 1.25));
    byId("fit").addEventListener("click", () => this.drawing.fit(true));
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
}
