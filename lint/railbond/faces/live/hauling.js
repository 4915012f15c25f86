// A train taken hold of in the drawing: what was taken follows the pointer along the track.

/** How far from the pointer, in the drawing's own measure, a train is left where it is. */
const NEAR = 3;
/** How near to its middle a train is taken hold of. */
const REACH = 10;
/** Notches that a train goes at most for one movement of the pointer. */
const PULL = 120;

class Hauling {
  constructor(page) {
    this.page = page;
    this.svg = page.drawing.svg;
    this.held = null; // how far behind the nose it was taken hold of, in micrometers
    this.svg.addEventListener("pointerdown", (event) => this.take(event));
    this.svg.addEventListener("pointermove", (event) => this.pull(event));
    for (const end of ["pointerup", "pointercancel"]) this.svg.addEventListener(end, () => { this.held = null; });
  }

  /** Takes hold of what lies under the pointer; points below it are still thrown by a click that moves nothing. */
  take(event) {
    const { train, drawing } = this.page;
    if (!train.kind || !drawing.over.querySelector(".train")) return;
    const at = this.pointer(event);
    const found = drawing.places(train).map((place) => {
      const { x, y } = drawing.pointAt(train, train.nose - place);
      return { place, far: Math.hypot(x - at.x, y - at.y) };
    });
    const nearest = found.reduce((best, one) => (one.far < best.far ? one : best));
    if (nearest.far <= REACH) this.held = nearest.place;
  }

  pull(event) {
    if (this.held === null) return;
    if (!event.buttons) {
      this.held = null;
      return;
    }
    const at = this.pointer(event);
    const told = [];
    let way = 0;
    for (let notch = 0; notch < PULL; notch += 1) {
      const wanted = this.wanted(at);
      if (Math.abs(wanted) < NEAR || wanted * way < 0) break;
      way = Math.sign(wanted);
      const wrong = this.page.train.meets().bad;
      const { trouble, turned } = this.page.train.run(way * NOTCH);
      told.push(...turned, trouble);
      if (trouble || (!wrong && this.page.train.meets().bad)) break;
    }
    if (!way) return;
    this.svg.setPointerCapture(event.pointerId);
    this.page.look([...new Set(told)].filter(Boolean).join(" "));
  }

  /** How far along the track the pointer is ahead of what is held; below 0 behind it. */
  wanted(at) {
    const { train, drawing } = this.page;
    const place = train.nose - this.held;
    const [here, ahead, behind] = [place, place + 2 * NOTCH, place - 2 * NOTCH].map((one) => drawing.pointAt(train, one));
    const [x, y] = [ahead.x - behind.x, ahead.y - behind.y];
    const long = Math.hypot(x, y);
    return long ? ((at.x - here.x) * x + (at.y - here.y) * y) / long : 0;
  }

  pointer(event) {
    return new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
  }
}
