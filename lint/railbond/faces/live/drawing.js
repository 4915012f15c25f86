// The drawing: every rail in the ink of what it carries now, points that can be thrown, a path that is walked.

const SVG = "http://www.w3.org/2000/svg";
const INKS = {
  one: "first leg", two: "second leg", "turns-one": "a reverser's first leg", "turns-two": "a reverser's second leg",
  unit: "automatic frog unit", dead: "no power", short: "short: both legs",
};

/** Two places of a train that lie so far apart are in two rows, or on either side of a jump. */
const APART = 60;
/** A drawing that would be smaller than the first share of its full size is shown at the second: names must be read. */
const TINY = 0.5;
const READABLE = 0.75;

class Drawing {
  constructor(root, act) {
    this.root = root;
    this.act = act;
    this.svg = root.querySelector("svg");
    this.track = this.svg.querySelector("#track");
    this.marks = [...this.track.children];
    this.svg.removeAttribute("aria-label");
    this.svg.setAttribute("role", "presentation");
    this.over = this.layer("over");
    this.hands = this.layer("hands");
    this.listen();
    this.fit(false);
  }

  /** Brings the first of these findings that has a mark into the middle, or else the first rail: of a drawing that is
   *  larger than its frame the corner may be bare. */
  begin(findings) {
    const flags = findings.map((number) => this.track.querySelector(`.flag[data-f="${number + 1}"]`));
    const there = (flags.find((one) => one) ?? this.rails[0])?.getBoundingClientRect();
    if (!there) return;
    const frame = this.root.getBoundingClientRect();
    this.root.scrollLeft += there.left + there.width / 2 - frame.left - frame.width / 2;
    this.root.scrollTop += there.top + there.height / 2 - frame.top - frame.height / 2;
  }

  /** What it shows of the railroad, once its marks are there. */
  start(graph, cells) {
    this.graph = graph;
    this.cells = cells;
    this.rails = [...this.track.querySelectorAll("path[data-c]")];
    this.lines = new Map();
    this.buttons = new Map();
    this.hands.replaceChildren();
    for (const name of Object.keys(graph.switches)) if (cells[name]) this.hand(name);
  }

  /** Takes new marks, given as text, among those that stay. Neither what is seen of it nor how large moves. */
  renew(marks, { frame, title, words }) {
    const fresh = marks.filter((one) => typeof one === "string");
    const text = `<svg xmlns="${SVG}">${fresh.map((one) => `<g>${one}</g>`).join("")}</svg>`;
    const made = [...document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true).children];
    const stay = new Set();
    this.marks = marks.map((one) => {
      if (typeof one === "string") return made.shift();
      const mark = stay.has(one) ? one.cloneNode(true) : one;
      stay.add(mark);
      return mark;
    });
    for (const one of [...this.track.children]) if (one !== this.over && !stay.has(one)) one.remove();
    let here = this.track.firstChild;
    for (const mark of this.marks) {
      if (mark === here) here = here.nextSibling;
      else this.track.insertBefore(mark, here);
    }
    this.track.append(this.over);
    this.put(frame, title, words);
    return this.marks;
  }

  put(box, title, words) {
    this.svg.querySelector("title").textContent = title;
    this.svg.querySelector("desc").textContent = words.join("\n");
    if (this.svg.getAttribute("viewBox") === box.join(" ")) return;
    this.svg.setAttribute("viewBox", box.join(" "));
    ["x", "y", "width", "height"].forEach((name, place) => this.svg.querySelector(".ground").setAttribute(name, box[place]));
    if (this.isFitted) this.fit();
    else this.zoom(this.size);
  }

  layer(name) {
    const layer = document.createElementNS(SVG, "g");
    layer.setAttribute("class", name);
    (name === "over" ? this.track : this.svg).append(layer); // trains are printed, hands are not
    return layer;
  }

  /** A round place to take hold of points by. */
  hand(name) {
    const circle = document.createElementNS(SVG, "circle");
    const [x, y] = this.cells[name];
    for (const [key, value] of Object.entries({ cx: x, cy: y, r: 17, class: "hand", role: "button", tabindex: 0 })) circle.setAttribute(key, value);
    const act = () => this.act.throwNext(name);
    circle.addEventListener("click", act);
    circle.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      act();
    });
    circle.append(document.createElementNS(SVG, "title"));
    this.hands.append(circle);
    this.buttons.set(name, circle);
  }

  listen() {
    const rail = (event) => event.target.closest?.("path[data-c]");
    this.svg.addEventListener("pointerover", (event) => rail(event) && this.act.pointAt(Number(rail(event).dataset.c)));
    this.svg.addEventListener("click", (event) => rail(event) && this.act.choose(Number(rail(event).dataset.c), rail(event).dataset.p));
    this.svg.addEventListener("click", (event) => {
      const flag = event.target.closest?.(".flag");
      if (flag) this.act.walk(Number(flag.dataset.f) - 1);
    });
  }

  paint() {
    const inks = this.graph.inks();
    for (const path of this.rails) {
      const ink = inks[Number(path.dataset.c)];
      const core = path.dataset.core === "";
      const look = core ? `core ${path.dataset.kind}-core ${ink}` : `${path.dataset.kind} ${ink}`;
      if (path.getAttribute("class") !== look) path.setAttribute("class", look);
      if (path.dataset.away) {
        const shut = path.dataset.shut.split(" ").includes(this.graph.setting[path.dataset.p]);
        path.setAttribute("d", shut ? path.dataset.d : path.dataset.away);
      }
    }
    for (const [name, circle] of this.buttons) {
      const words = `${name}: ${this.graph.setting[name]}. Throw it.`;
      circle.setAttribute("aria-label", words);
      circle.querySelector("title").textContent = words;
    }
    return inks;
  }

  paths(conductors) {
    const wanted = new Set(conductors);
    return this.rails.filter((path) => path.dataset.core !== "" && wanted.has(Number(path.dataset.c)));
  }

  /** Marks metal, and brings the first of it into view. */
  mark(conductors, kind = "walked", look = true) {
    this.over.replaceChildren();
    const paths = this.paths(conductors);
    for (const path of paths) {
      const copy = document.createElementNS(SVG, "path");
      copy.setAttribute("d", path.getAttribute("d"));
      copy.setAttribute("class", kind);
      this.over.append(copy);
    }
    if (look) paths[0]?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  ring(piece) {
    const place = this.cells[piece];
    if (!place) return;
    const circle = document.createElementNS(SVG, "circle");
    for (const [key, value] of Object.entries({ cx: place[0], cy: place[1], r: 24, class: "found" })) circle.setAttribute(key, value);
    this.over.append(circle);
    circle.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** Shows a train: its body along the track, its wheels on that, and its nose. */
  show(train, bad) {
    this.over.replaceChildren();
    const look = bad ? " bad" : "";
    const places = this.places(train);
    const body = places.map((place) => this.pointAt(train, train.nose - place));
    const along = body.map(({ x, y }, number) => {
      const { x: u, y: v } = body[number - 1] ?? { x, y };
      return `${number && Math.hypot(x - u, y - v) < APART ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`; // no line from row to row
    });
    this.lay("path", { d: along.join(""), class: `train body${look}` });
    for (let number = 2; number < body.length; number += 4) this.lay("circle", { cx: body[number].x, cy: body[number].y, r: 1.8, class: "train wheel" });
    const nose = this.lay("circle", { cx: body[0].x, cy: body[0].y, r: 8, class: `train nose${look}` });
    nose.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  lay(name, attributes) {
    const element = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    this.over.append(element);
    return element;
  }

  /** Places along a train, from its nose to its tail, in micrometers. */
  places(train) {
    const steps = Math.min(60, Math.ceil(train.kind.length / 2000));
    return Array.from({ length: steps + 1 }, (_, number) => (train.kind.length * number) / steps);
  }

  /** Where a place along the train's way lies in the drawing. */
  pointAt(train, along) {
    const { way, place } = train.at(along);
    const line = this.line(way.line);
    const share = way.length ? place / way.length : 0;
    return line.getPointAtLength(line.getTotalLength() * (way.back ? 1 - share : share));
  }

  line(d) {
    if (!this.lines.has(d)) {
      const path = document.createElementNS(SVG, "path");
      path.setAttribute("d", d);
      this.lines.set(d, path);
    }
    return this.lines.get(d);
  }

  /** As large as there is room for; where its names could not be read then, larger, unless the whole is asked for. */
  fit(whole = this.isWhole) {
    const { width } = this.svg.viewBox.baseVal;
    const share = (this.root.clientWidth || 800) / width;
    this.isWhole = whole;
    this.zoom(Math.min(1.7, share >= TINY ? share : whole ? Math.max(share, 0.2) : READABLE));
    this.isFitted = true;
  }

  zoom(size) {
    this.isFitted = false;
    this.size = Math.min(4, Math.max(0.2, size));
    const { width, height } = this.svg.viewBox.baseVal;
    this.svg.setAttribute("width", Math.round(width * this.size));
    this.svg.setAttribute("height", Math.round(height * this.size));
  }
}
