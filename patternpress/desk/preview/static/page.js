// The author's page: shows what the workshop knows, and asks it for changes.
// Nothing of a design is ever put into the page as markup: text goes in as text.
"use strict";

const at = (id) => document.getElementById(id);
const made = (tag, words = "", kind = "") => {
  const node = document.createElement(tag);
  if (words) node.textContent = words;
  if (kind) node.className = kind;
  return node;
};
const readOnly = () => matchMedia("(max-width: 760px)").matches;
let state = null;
let asking = null;
let again = false;
let figureRows = [];
let lines = { mark: "", texts: [] };

async function ask(what, fields = {}) {
  const answer = await fetch(`/ask/${what}`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(fields),
  });
  const found = await answer.json().catch(() => ({ refused: "The workshop gave no answer." }));
  if (!answer.ok) throw new Error(found.refused || "This was refused.");
  return found;
}

// `fill` only where it became another: a button that is replaced loses the focus and the press.
function anew(node, shown, fill) {
  const now = JSON.stringify(shown);
  if (node.dataset.held === now) return;
  node.dataset.held = now;
  fill();
}

// ------------------------------------------------------------------ state

async function refresh() {
  if (asking) { again = true; return; }
  asking = (async () => {
    const answer = await fetch("/state");
    if (answer.ok) show(await answer.json());
  })();
  try { await asking; } catch { condition("The workshop has stopped; what you wrote is saved.", "wrong"); }
  asking = null;
  if (again) { again = false; refresh(); }
}

function condition(words, kind = "") {
  const node = at("condition");
  if (node.textContent !== words) node.textContent = words;
  node.className = kind;
}

function show(found) {
  const before = state;
  state = found;
  document.title = `${found.file} · patternpress`;
  at("name").textContent = found.file;
  const errors = found.problems.filter((each) => each.level === "error").length;
  const warnings = found.problems.length - errors;
  if (errors) condition(`${errors} ${errors === 1 ? "error" : "errors"}: the pages are the last good ones`, "wrong");
  else if (found.fault) condition(found.fault, "wrong");
  else if (found.busy) condition(`${found.busy} …`, "busy");
  else condition(warnings ? `Up to date, ${warnings} ${warnings === 1 ? "warning" : "warnings"}` : "Up to date");
  showEditions();
  showPages();
  showSteps();
  // While a new text is read, the problems are still those of the text before.
  if (found.busy !== "Reading") anew(at("problems"), [found.problems, found.problems.length ? found.mark : ""], showProblems);
  at("undo").disabled = !found.undoable;
  at("build").disabled = !found.sound || Boolean(found.making);
  showMaking();
  const settled = !found.busy && found.sound;
  if (settled && (!before || before.mark !== found.mark || before.busy || !figureRows.length)) {
    loadFigures();
    loadModel();
    loadPlan();
    loadLayouts();
    loadLines();
  } else if (!before || before.mark !== found.mark) loadLines();
}

function options(select, names, chosen) {
  anew(select, [names, chosen], () => select.replaceChildren(...names.map(([value, words]) => {
    const each = made("option", words);
    each.value = value;
    each.selected = value === chosen;
    return each;
  })));
}

function showEditions() {
  const names = state.editions.map((each) => [each, each]);
  options(at("edition"), names, state.shown[0] || "");
  options(at("beside"), [["", "none"], ...names], state.shown[1] || "");
}

async function chosen() {
  const names = [at("edition").value, at("beside").value].filter(Boolean);
  await ask("show", { editions: names }).catch(refused);
  refresh();
}

// ------------------------------------------------------------------ pages

function showPages() {
  const sheets = at("sheets");
  const columns = state.shown.map((name) => state.pages[name] || []);
  const rows = Math.max(0, ...columns.map((each) => each.length));
  if (!rows) {
    const words = state.problems.length ? "No page yet: mend the errors first." : "The first pages come in a moment.";
    if (!sheets.querySelector(".none") || sheets.textContent !== words) sheets.replaceChildren(made("p", words, "none"));
    at("thumbs").replaceChildren();
    return;
  }
  sheets.querySelector(".none")?.remove();
  for (let row = 0; row < rows; row += 1) {
    const pair = sheets.children[row] || sheets.appendChild(made("div", "", "pair"));
    columns.forEach((pages, column) => {
      let sheet = pair.children[column];
      if (!sheet) { sheet = newSheet(); pair.append(sheet); }
      fillSheet(sheet, pages[row], row, pages.length, state.shown[column]);
    });
    while (pair.children.length > columns.length) gone(pair.lastChild);
  }
  while (sheets.children.length > rows) gone(sheets.lastChild);
  showThumbs(columns[0] || []);
}

// A sheet that is taken away must not take with it what is being changed on it.
function gone(node) {
  changing.leaveIn(node);
  node.remove();
}

function newSheet() {
  const sheet = made("figure", "", "sheet");
  const image = made("img");
  image.loading = "lazy";
  image.decoding = "async";
  sheet.append(image, made("figcaption"), made("div", "", "spots"));
  changing.watch(sheet);
  return sheet;
}

function fillSheet(sheet, page, row, count, edition) {
  const [image, caption] = sheet.children;
  const coming = !page && !count && !row; // an edition without pages yet
  sheet.hidden = !page && !coming;
  image.hidden = coming;
  if (coming) {
    sheet.className = "sheet coming";
    caption.textContent = state.sound ? `${edition} comes in a moment` : `No page of ${edition} yet`;
  }
  if (!page) return;
  const scale = Number(at("zoom").value) / 100;
  const dpi = Math.min(220, Math.max(40, Math.round(96 * scale * Math.min(2, devicePixelRatio || 1))));
  const source = `/page/${page.id}.png?dpi=${dpi}`;
  image.width = Math.round((page.wide / 72) * 96 * scale);
  image.height = Math.round((page.high / 72) * 96 * scale);
  if (image.getAttribute("src") !== source) image.src = source;
  image.alt = `Page ${row + 1} of ${count}, ${edition}`;
  sheet.setAttribute("aria-label", `${image.alt}. Enter goes through what can be changed on it.`);
  if (sheet.dataset.page !== page.id || sheet.dataset.edition !== edition || page.old) changing.forget(sheet);
  sheet.dataset.page = page.id;
  sheet.dataset.edition = edition;
  sheet.className = `sheet${page.old ? " old" : ""}${page.soon ? " soon" : ""}`;
  const soon = page.old ? "new, its place not yet sure" : "new";
  const words = page.soon ? soon : page.old ? "old" : `${edition}, ${row + 1} of ${count}`;
  if (caption.textContent !== words) caption.textContent = words;
}

function showThumbs(pages) {
  const list = at("thumbs");
  pages.forEach((page, number) => {
    let item = list.children[number];
    if (!item) {
      item = made("li");
      const button = made("button");
      button.type = "button";
      button.append(made("img"), made("span"));
      button.addEventListener("click", () => toPage(number));
      item.append(button);
      list.append(item);
    }
    const [image, words] = item.firstChild.children;
    const source = `/page/${page.id}.png?dpi=20`;
    if (image.getAttribute("src") !== source) { image.loading = "lazy"; image.src = source; }
    image.alt = "";
    words.textContent = `${number + 1}${page.old ? " old" : ""}`;
    item.firstChild.setAttribute("aria-label", `Page ${number + 1}${page.old ? ", old" : ""}`);
  });
  while (list.children.length > pages.length) list.lastChild.remove();
}

function toPage(number) {
  at("sheets").children[number]?.scrollIntoView({ block: "start" });
}

function showSteps() {
  const list = at("steps");
  while (list.children.length > state.steps.length) list.lastChild.remove();
  while (list.children.length < state.steps.length) list.append(newStep(list.children.length));
  state.steps.forEach((step, number) => {
    const [go, line] = list.children[number].children;
    go.textContent = `${step.number} ${step.title}`;
    line.textContent = `line ${step.line}`;
  });
}

function newStep(number) {
  const item = made("li");
  const [go, line] = [made("button"), made("button", "", "line")];
  for (const each of [go, line]) each.type = "button";
  go.addEventListener("click", () => toPage(state.steps[number].page - 1));
  line.addEventListener("click", () => toLine(state.steps[number].line));
  item.append(go, line);
  return item;
}

// ------------------------------------------------------------------ problems

function showProblems() {
  const panel = at("problems");
  if (!state.problems.length) {
    panel.replaceChildren(made("p", "Nothing is wrong."));
    return;
  }
  panel.replaceChildren(...state.problems.map(drawnProblem));
}

// With its picture, where pieces do not fit.
function drawnProblem(each, number) {
  const node = problemNode(each);
  const picture = made("img");
  picture.alt = `Where it is: ${each.what}`;
  picture.addEventListener("error", () => picture.remove());
  picture.src = `/problem/${state.mark}/${number}.svg`;
  node.append(picture);
  return node;
}

function problemNode(each) {
  const node = made("article", "", `problem ${each.level}`);
  const place = made("button", `${each.file}, line ${each.line}`);
  place.type = "button";
  place.addEventListener("click", () => toLine(each.line));
  node.append(told("h3", `${each.level === "error" ? "Error" : "Warning"}: ${each.what}`), place);
  if (each.why) node.append(told("p", `At the bench: ${each.why}`, "why"));
  if (each.mend) node.append(told("p", `To mend: ${each.mend}`));
  return node;
}

// What stands between backticks is typed so in the file.
function told(tag, words, kind = "") {
  const node = made(tag, "", kind);
  words.split("`").forEach((each, number) => node.append(number % 2 ? made("code", each) : each));
  return node;
}

// ------------------------------------------------------------------ taking back

async function takeBack() {
  await ask("undo").catch(refused);
  refresh();
}

function refused(error) { condition(error.message, "wrong"); }

// ------------------------------------------------------------------ figures, plan, file

async function loadFigures() {
  if (!state.shown.length) return;
  try {
    figureRows = (await ask("figures", { edition: state.shown[0] })).figures;
    showFigures();
    showMoves((await ask("moves", { edition: state.shown[0] })).systems);
  } catch { /* a newer state is on its way */ }
}

function tableOf(heads, rows) {
  const table = made("table");
  const head = table.createTHead().insertRow();
  for (const words of heads) { const cell = made("th", words); cell.scope = "col"; head.append(cell); }
  const body = table.createTBody();
  for (const cells of rows) {
    const row = body.insertRow();
    cells.forEach((words, number) => row.append(made("td", words, number ? "" : "what")));
  }
  return table;
}

// Every printed figure: what it is in the design, and by how many steps of the edition it moved.
function showMoves(systems) {
  at("moves").replaceChildren(...systems.flatMap((each) => {
    const table = tableOf(["What, and why", "In the design", "Printed", "Moved"],
      each.rows.map((row) => [row.what, row.exact, row.printed, row.moved]));
    each.rows.forEach((row, number) => {
      if (row.why) table.tBodies[0].rows[number].cells[0].append(made("span", row.why, "why"));
    });
    return [made("p", `In steps of ${each.step}.`), table];
  }));
}

async function loadLayouts() {
  try {
    const found = await ask("layouts");
    const nodes = found.lines.map((each) => (each ? made("p", each) : made("hr")));
    at("layouts").replaceChildren(...(nodes.length ? nodes : [made("p", "There is nothing to cut yet.")]));
  } catch { /* a newer state is on its way */ }
}

function showProof(proved) {
  if (!proved.length) return;
  at("proof").replaceChildren(...proved.flatMap((each) => [
    made("h3", `${each.edition}: ${each.sound ? "sound" : "not written"}`),
    ...each.lines.filter(Boolean).map((line) => made("p", line, line.startsWith(" ") ? "told" : "")),
  ]));
}

// Rows are kept and filled anew: a button that is replaced while it is pressed is never clicked.
function showFigures() {
  const wanted = at("find").value.trim().toLowerCase();
  const rows = figureRows.filter((each) => !wanted || `${each.label} ${each.text} ${each.printed}`.toLowerCase().includes(wanted));
  const body = at("rows");
  while (body.children.length > rows.length) body.lastChild.remove();
  while (body.children.length < rows.length) body.append(newRow());
  rows.forEach((each, number) => fillRow(body.children[number], each));
}

function newRow() {
  const row = made("tr");
  const edit = made("td", "", "edit");
  const go = made("button", "", "toline");
  const button = made("button", "Change");
  for (const each of [go, button]) each.type = "button";
  go.addEventListener("click", () => toLine(row.figure.line));
  button.addEventListener("click", () => changing.open([{ ...row.figure, kind: "figure" }], state.mark));
  edit.append(button, go);
  row.append(made("td"), made("td"), made("td"), edit);
  return row;
}

function fillRow(row, each) {
  row.figure = each;
  row.className = each.given ? "" : "sum";
  row.querySelector(".toline").textContent = `line ${each.line}`;
  row.lastChild.firstChild.setAttribute("aria-label", `Change ${each.label}, line ${each.line}`);
  [each.label, each.text, each.printed].forEach((text, number) => {
    row.children[number].textContent = text;
  });
}

async function loadPlan() {
  try {
    const found = await ask("plan");
    const nodes = found.lines.map((each) => made("p", each));
    at("plan").replaceChildren(...(nodes.length ? nodes : [made("p", "There are no steps yet.")]));
  } catch { /* a newer state is on its way */ }
}

async function loadLines() {
  if (!state.mark || lines.mark === state.mark) return;
  const mark = state.mark;
  try {
    const found = await ask("source", { mark });
    lines = { mark, texts: found.text.split("\n") };
    at("lines").replaceChildren(...lines.texts.map((text, number) => {
      const item = made("li", text || " ");
      item.id = `line-${number + 1}`;
      item.tabIndex = number ? -1 : 0;
      return item;
    }));
  } catch { /* the file has just changed again */ }
}

function toLine(number) {
  select("file");
  const line = at(`line-${number}`);
  if (!line) return;
  for (const each of document.querySelectorAll("#lines .here, #lines [tabindex='0']")) {
    each.classList.remove("here");
    each.tabIndex = -1;
  }
  line.classList.add("here");
  line.tabIndex = 0; // the one line that Tab comes to
  line.scrollIntoView({ block: "center" });
  line.focus({ preventScroll: true });
}

// From a line of the file to the step that it is in, and its page.
function lineChosen(event) {
  const number = Number(event.target.id?.replace("line-", ""));
  const step = [...state.steps].reverse().find((each) => each.line <= number);
  if (number && step?.page) toPage(step.page - 1);
  else if (number) condition("This line belongs to no step; a step's line leads to its page");
}

function lineKeys(event) {
  const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (event.key === "Enter") lineChosen(event);
  else if (by) toLine(Number((document.activeElement.id || "line-0").replace("line-", "")) + by);
  else return;
  event.preventDefault();
}

// ------------------------------------------------------------------ model

let modelMark = "";
async function loadModel() {
  if (!state.shown.length || at("model").hidden || modelMark === `${state.mark} ${state.shown[0]}`) return;
  try {
    const found = await ask("turn", { edition: state.shown[0] });
    modelMark = `${state.mark} ${state.shown[0]}`;
    turning.load(found);
    const upto = at("upto");
    const most = Math.max(1, found.steps);
    const kept = Number(upto.max) === most ? upto.value : most;
    upto.max = most;
    upto.value = kept;
    stepNamed();
  } catch { /* a newer state is on its way */ }
}

function stepNamed() {
  const number = Number(at("upto").value);
  const step = state.steps[number - 1];
  at("uptoname").textContent = step ? `Step ${step.number}: ${step.title}` : "";
  at("upto").setAttribute("aria-valuetext", at("uptoname").textContent);
  at("back").disabled = number <= 1;
  at("on").disabled = number >= Number(at("upto").max);
  turning.upto(number);
  at("kept").textContent = step?.from ? `Its picture is seen from ${step.from}.` : "";
  if (step?.from) turning.see(step.from);
}

function stepped(by) {
  at("upto").value = Number(at("upto").value) + by;
  stepNamed();
}

async function keepView() {
  try {
    const found = await ask("keep", { step: Number(at("upto").value), from: turning.from(), mark: state.mark });
    at("kept").textContent = `Written into the file: seen from ${found.from}.`;
    refresh();
  } catch (error) { at("kept").textContent = error.message; }
}

// ------------------------------------------------------------------ tabs, building

function select(name) {
  for (const tab of at("tabs").children) {
    const mine = tab.getAttribute("aria-controls") === name;
    tab.setAttribute("aria-selected", String(mine));
    tab.tabIndex = mine ? 0 : -1;
    at(tab.getAttribute("aria-controls")).hidden = !mine;
  }
  if (name === "model") { loadModel(); turning.fit(); }
}

function tabKeys(event) {
  const tabs = [...at("tabs").children];
  const here = tabs.indexOf(document.activeElement);
  const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (here < 0 || !step) return;
  const next = tabs[(here + step + tabs.length) % tabs.length];
  select(next.getAttribute("aria-controls"));
  next.focus();
  event.preventDefault();
}

async function build() {
  at("made-words").textContent = "Building every edition …";
  at("made-share").hidden = false;
  at("made-files").replaceChildren();
  at("made").showModal();
  try {
    const found = await ask("build");
    const refused = found.proved.filter((each) => !each.sound).map((each) => each.edition);
    const sound = `${found.made.length} files were made; every booklet was measured and is sound.`;
    at("made-words").textContent = refused.length ? `Not written: ${refused.join(", ")}. The proof says why.` : sound;
    showProof(found.proved);
    showMade(found.made);
  } catch (error) { at("made-words").textContent = error.message; }
  at("made-share").hidden = true;
  refresh();
}

// While the editions are built: which one is in hand, and what lies there already.
function showMaking() {
  const { making } = state;
  if (!making) return;
  at("made-words").textContent = `Building ${making.edition}: ${making.done + 1} of ${making.of}.`;
  at("made-share").value = making.done;
  at("made-share").max = making.of;
  showMade(state.built);
}

function showMade(names) {
  if (at("made-files").children.length === names.length) return;
  at("made-files").replaceChildren(...names.map((name) => {
    const item = made("li");
    const link = made("a", name);
    link.href = `/made/${encodeURIComponent(name)}`;
    link.target = "_blank";
    link.rel = "noopener";
    item.append(link);
    return item;
  }));
}

// ------------------------------------------------------------------ start

at("edition").addEventListener("change", chosen);
at("beside").addEventListener("change", chosen);
at("zoom").addEventListener("input", () => state && showPages());
at("undo").addEventListener("click", takeBack);
at("build").addEventListener("click", build);
at("tabs").addEventListener("click", (event) => event.target.role === "tab" && select(event.target.getAttribute("aria-controls")));
at("tabs").addEventListener("keydown", tabKeys);
at("find").addEventListener("input", showFigures);
at("lines").addEventListener("dblclick", lineChosen);
at("lines").addEventListener("keydown", lineKeys);
document.addEventListener("keydown", (event) => {
  const typing = event.target.closest("input, textarea, select, dialog");
  if ((event.ctrlKey || event.metaKey) && event.key === "z" && !typing && state?.undoable) {
    event.preventDefault();
    takeBack();
  }
});
at("upto").addEventListener("input", stepNamed);
at("back").addEventListener("click", () => stepped(-1));
at("on").addEventListener("click", () => stepped(1));
at("apart").addEventListener("input", () => turning.apart(Number(at("apart").value) / 100));
at("keep").addEventListener("click", keepView);
changing.begin();
turning.begin(at("canvas"));
ask("proof").then((found) => showProof(found.proved)).catch(() => {});
const news = new EventSource("/news");
news.onmessage = refresh;
news.onerror = () => condition("The workshop does not answer; the file is safe.", "wrong");
refresh();
