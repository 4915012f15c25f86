// What in a drawing lies over text: for every text its words, and the text or the class of the metal or mark over it.
(svg) => {
  const texts = [...svg.querySelectorAll("text")].map((one) => {
    const box = one.getBBox(), size = parseFloat(getComputedStyle(one).fontSize), at = one.getCTM();
    // the box of the font is taller than its letters: from the top of a capital to the foot of a p
    const base = parseFloat(one.getAttribute("y"));
    const edge = (x, y) => new DOMPoint(x, y).matrixTransform(at);
    const low = edge(box.x, base + 0.22 * size), high = edge(box.x + box.width, base - 0.73 * size);
    return {words: one.textContent, west: low.x, east: high.x, top: high.y, low: low.y};
  });
  const found = [];
  texts.forEach((one, place) => {
    for (const other of texts.slice(0, place))
      if (one.west < other.east && other.west < one.east && one.top < other.low && other.top < one.low)
        found.push(`${one.words} / ${other.words}`);
  });
  const marks = [".rail", ".frog", ".plastic", ".cut", ".buffer", ".wire", ".frog-wire", ".leader", ".edge", ".pit",
    ".parapet", ".coupling", ".solder", ".joint", ".lamp", ".split", ".burst"];
  for (const mark of svg.querySelectorAll(marks.join(","))) {
    if (mark.closest(".legend")) continue;
    const half = parseFloat(getComputedStyle(mark).strokeWidth) / 2 || 0, length = mark.getTotalLength();
    const at = mark.getCTM(), box = mark.getBBox();
    const a = new DOMPoint(box.x, box.y).matrixTransform(at);
    const b = new DOMPoint(box.x + box.width, box.y + box.height).matrixTransform(at);
    const near = texts.filter((one) => one.west < b.x + half && a.x - half < one.east && one.top < b.y + half && a.y - half < one.low);
    if (!near.length) continue;
    // a wire ends within the label that it leads to, and a leader under its mark
    const own = [".wire", ".frog-wire", ".leader"].some((kind) => mark.matches(kind)) ? 4 : 0;
    for (let along = 0; along <= length - own; along += 2) {
      const point = mark.getPointAtLength(along).matrixTransform(at);
      for (const one of near)
        if (point.x + half > one.west && point.x - half < one.east && point.y + half > one.top && point.y - half < one.low)
          found.push(`${one.words} / ${mark.getAttribute("class")}`);
    }
  }
  return [...new Set(found)];
}
