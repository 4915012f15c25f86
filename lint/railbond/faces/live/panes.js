// What stands beside the drawing: findings, points and the legend.

const byId = (id) => document.getElementById(id);

function made(name, words = "", attributes = {}) {
  const element = document.createElement(name);
  element.textContent = words;
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

function lineWords(at, many) {
  return at ? `line ${at[1]}${many ? ` of ${at[0].split("/").pop()}` : ""}` : "";
}

/** Several lines, each once, file by file: "lines 14, 15 and 27". */
function linesWords(places, many) {
  const files = new Map();
  for (const at of places) if (at) files.set(at[0], (files.get(at[0]) ?? new Set()).add(at[1]));
  const told = [...files].map(([file, numbers]) => {
    const each = [...numbers].sort((one, other) => one - other);
    const list = each.length > 1 ? `lines ${each.slice(0, -1).join(", ")} and ${each[each.length - 1]}` : `line ${each[0]}`;
    return many ? `${list} of ${file.split("/").pop()}` : list;
  });
  return told.join(", ");
}

const SIGNS = { error: "\u2716", warning: "\u25B2", note: "\u25CF" };

function verdict(findings, isUnexplained = false) {
  const count = (level) => findings.filter((one) => one.level === level).length;
  const words = ["error", "warning", "note"].filter(count).map((level) => `${count(level)} ${level}${count(level) > 1 ? "s" : ""}`);
  if (isUnexplained) words.push("what explains them is looked for\u2026");
  return words.length ? words.join(", ") : "No faults found.";
}

/** What is dangerous about looking for a fault and mending it. */
function cautionsOf(one) {
  const care = made("details", "", { class: "care" });
  care.append(made("summary", "Take care"), ...one.cautions.map((words) => made("p", words)));
  return care;
}

/** The findings as buttons, each with the number of its mark in the drawing. */
function listFindings(findings, many, choose, mend = null) {
  byId("findings").replaceChildren(
    ...findings.map((one, number) => {
      const item = made("li");
      const button = made("button", "", { type: "button", class: `finding ${one.level}`, "aria-expanded": "false" });
      button.append(made("span", number + 1, { class: "number" }));
      button.append(made("span", ` ${SIGNS[one.level]} ${one.level}`, { class: "level" }));
      button.append(made("span", ` ${lineWords(one.at, many)}: ${one.message}`));
      button.addEventListener("click", () => choose(number));
      item.append(button);
      if (mend && one.mends.length) {
        const offered = made("button", "Mend\u2026", { type: "button" });
        offered.addEventListener("click", () => mend(one.at));
        item.append(offered);
      }
      if (one.mends.length) item.append(made("p", `Mend: ${one.mends[0]}.`, { class: "mend" }));
      if (one.cautions.length) item.append(cautionsOf(one));
      return item;
    }),
  );
  if (!findings.length) byId("findings").append(made("li", "Nothing was found, in any setting of the points.", { class: "none" }));
}

/** A row of choices for each switch. */
function listPoints(switches, throwTo) {
  byId("points").replaceChildren(
    ...Object.entries(switches).map(([name, positions]) => {
      const row = made("fieldset", "", { class: "points", "data-switch": name });
      row.append(made("legend", name));
      for (const position of positions) {
        const label = made("label");
        const input = made("input", "", { type: "radio", name: `points-${name}`, value: position });
        input.addEventListener("change", () => throwTo(name, position));
        label.append(input, ` ${position}`);
        row.append(label);
      }
      return row;
    }),
  );
  if (!Object.keys(switches).length) byId("points").append(made("p", "This plan has no points."));
}

function showPoints(setting) {
  for (const row of byId("points").querySelectorAll("fieldset")) {
    for (const input of row.querySelectorAll("input")) input.checked = setting[row.dataset.switch] === input.value;
  }
}

/** The names that the plan gives the wires which an ink stands for. */
function wiresOf(ink, sources) {
  const own = sources.filter((one) => kindOf(one) === ink && ink !== "unit").map((one) => one.words.split(".").pop());
  return [...new Set(own)].slice(0, 3).join(" or ");
}

function showLegend(inks, sources) {
  const seen = Object.keys(INKS).filter((ink) => inks.includes(ink));
  byId("legend").replaceChildren(
    ...seen.map((ink) => {
      const item = made("li");
      const svg = document.createElementNS(SVG, "svg");
      for (const [key, value] of Object.entries({ class: "rb", viewBox: "0 0 44 10", width: 44, height: 10, "aria-hidden": "true" })) svg.setAttribute(key, value);
      for (const kind of [`rail ${ink}`, `core rail-core ${ink}`]) {
        const path = document.createElementNS(SVG, "path");
        path.setAttribute("class", kind);
        path.setAttribute("d", "M1 5H43");
        svg.append(path);
      }
      const wires = wiresOf(ink, sources);
      item.append(svg, ` ${wires ? `${wires}: ` : ""}${INKS[ink]}`);
      return item;
    }),
  );
}

/** What those marks say that the drawing has. */
function showKeys(kinds) {
  for (const item of byId("keys").children) item.hidden = !kinds.includes(item.dataset.mark);
}
