// Changing a figure or words where they stand on a page: every spot of a page that comes from the
// design is a button over its picture; the field to type in opens on the spot itself.
"use strict";

const changing = (() => {
  const STEPS = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
  let pending = null; // what is being changed: its place, its kind, the text that it was read in
  let from = null; // the button that opened the field
  let waiting = 0;

  // ---------------------------------------------------------------- spots of a page

  function watch(sheet) {
    sheet.tabIndex = 0;
    sheet.setAttribute("role", "group");
    sheet.addEventListener("pointerenter", () => spots(sheet));
    sheet.addEventListener("focus", () => spots(sheet));
    sheet.addEventListener("keydown", keys);
    sheet.querySelector("img").addEventListener("click", (event) => pointed(sheet, event));
  }

  function forget(sheet) {
    delete sheet.dataset.spotted;
    sheet.querySelector(".spots").replaceChildren();
  }

  // The buttons of a page, asked for once as long as the page and the file stay as they are.
  async function spots(sheet) {
    if (readOnly() || !state || sheet.classList.contains("old")) return [];
    const shown = `${sheet.dataset.page} ${state.mark}`;
    const place = sheet.querySelector(".spots");
    if (sheet.dataset.spotted === shown) return [...place.children];
    let found;
    try {
      found = await ask("spots", { page: sheet.dataset.page, edition: sheet.dataset.edition });
    } catch { return []; } // the page has just become another one
    if (found.mark !== state.mark || `${sheet.dataset.page} ${state.mark}` !== shown) return [];
    if (sheet.dataset.spotted !== shown) {
      sheet.dataset.spotted = shown;
      place.replaceChildren(...found.spots.map((each) => button(each, found.mark)));
    }
    return [...place.children];
  }

  function button(spot, mark) {
    const node = made("button", "", `spot ${spot.kind}`);
    node.type = "button";
    node.tabIndex = -1;
    const first = spot.choices[0];
    node.setAttribute("aria-label", `Change ${spot.kind === "figure" ? spot.text : `“${spot.text.slice(0, 60)}”`}: ${first.label}, line ${first.line}`);
    node.title = spot.choices.length > 1 ? `${first.label} or another` : first.label;
    node.style.left = `${100 * spot.x}%`;
    node.style.top = `${100 * spot.y}%`;
    node.style.width = `${100 * spot.wide}%`;
    node.style.height = `${100 * spot.high}%`;
    node.addEventListener("click", () => open(spot.choices, mark, node));
    return node;
  }

  // A touch that comes before the buttons do.
  async function pointed(sheet, event) {
    const [x, y] = [event.clientX, event.clientY];
    const inside = (each) => {
      const box = each.getBoundingClientRect();
      return box.left <= x && x <= box.right && box.top <= y && y <= box.bottom;
    };
    const here = (await spots(sheet)).filter(inside);
    if (here.length) here[here.length - 1].click();
    else if (!readOnly()) condition("Nothing to change here: it follows from the rest, or is said by the booklet itself");
  }

  async function keys(event) {
    const sheet = event.currentTarget;
    if (event.target.closest("dialog")) return;
    if (event.target === sheet && event.key === "Enter") {
      event.preventDefault();
      (await spots(sheet))[0]?.focus();
      return;
    }
    if (event.target === sheet) return;
    const every = [...sheet.querySelectorAll(".spot")];
    const next = every.indexOf(event.target) + (STEPS[event.key] || 0);
    if (event.key === "Escape") sheet.focus();
    else if (STEPS[event.key]) every[(next + every.length) % every.length].focus();
    else return;
    event.preventDefault();
  }

  // ---------------------------------------------------------------- the field

  // `choices` are the places that what is changed may come from; `spot` the button on the page.
  function open(choices, mark, spot = null) {
    leave();
    from = spot || document.activeElement;
    const dialog = at("change");
    at("change-source").replaceChildren(...choices.map((each, number) => {
      const option = made("option", named(each));
      option.value = number;
      return option;
    }));
    at("change-sources").hidden = choices.length < 2;
    at("change-source").onchange = () => choose(choices[Number(at("change-source").value)], mark);
    dialog.classList.toggle("here", Boolean(spot));
    (spot ? spot.closest(".sheet") : document.body).append(dialog);
    choose(choices[0], mark);
    if (spot) dialog.show(); else dialog.showModal();
    if (spot) stand(dialog, spot);
    field().focus();
    field().select();
  }

  function named(each) {
    if (each.kind === "words") return `the words of ${each.label}, line ${each.line}`;
    return `${each.label}: ${each.text}${each.given ? "" : " (a sum)"}, line ${each.line}`;
  }

  function choose(row, mark) {
    const figure = row.kind === "figure";
    pending = { place: row.place, kind: row.kind, mark, was: row.text };
    at("change-title").textContent = row.label;
    at("change-where").textContent = `${state.file}, line ${row.line}${row.printed ? `; printed as ${row.printed}` : ""}`;
    at("change-figure").hidden = !figure;
    at("change-words").hidden = figure;
    at("change-label").textContent = figure ? "New figure or sum" : "New words";
    at("change-label").htmlFor = field().id;
    field().value = row.text;
    brings("");
    at("change-write").disabled = true;
  }

  // The field lies on the spot; what belongs to it stands below.
  function stand(dialog, spot) {
    const room = dialog.parentElement.clientWidth;
    const left = Math.max(0, Math.min(spot.offsetLeft - 8, room - dialog.offsetWidth));
    dialog.style.left = `${left}px`;
    dialog.style.top = `${spot.offsetTop - at("change").querySelector(".field").offsetTop - at("change-figure").offsetTop - 4}px`;
    const inner = dialog.clientWidth - 2 * 13;
    const shift = Math.max(0, Math.min(spot.offsetLeft - left - 13, inner - 130));
    at("change-figure").style.marginLeft = `${shift}px`;
    at("change-figure").style.width = `${Math.min(inner - shift, 260)}px`;
    dialog.scrollIntoView({ block: "nearest" });
  }

  function leave() {
    const dialog = at("change");
    if (!dialog.open) return;
    dialog.close();
    pending = null;
    at("change-figure").removeAttribute("style");
    dialog.removeAttribute("style");
    document.body.append(dialog);
    if (from?.isConnected) from.focus();
  }

  function leaveIn(node) { if (node.contains(at("change"))) leave(); }

  // ---------------------------------------------------------------- what it brings

  function field() { return pending?.kind === "words" ? at("change-words") : at("change-figure"); }

  function typed() {
    clearTimeout(waiting);
    at("change-write").disabled = true;
    brings("");
    waiting = setTimeout(attempt, 250);
  }

  async function attempt() {
    const wanted = pending;
    const next = field().value;
    if (!wanted || next.trim() === wanted.was.trim()) return;
    brings("Looking at what else would move …");
    try {
      const found = await ask("try", { ...wanted, new: next });
      if (wanted !== pending || field().value !== next) return;
      show(found, wanted.kind);
      at("change-write").disabled = false;
      at("change").scrollIntoView({ block: "nearest" });
    } catch (error) { if (wanted === pending) brings(error.message); }
  }

  function brings(words) { at("change-brings").replaceChildren(...(words ? [made("p", words)] : [])); }

  function show(found, kind) {
    const nodes = found.problems.map(problemNode);
    if (found.moved.length) {
      nodes.push(tableOf(["What moves", "was", "becomes"],
        found.moved.map((each) => [each.what, each.was || "nothing", each.is || "nothing"])));
    }
    if (!nodes.length) nodes.push(made("p", kind === "words" ? "No figure moves." : "Nothing else moves."));
    at("change-brings").replaceChildren(...nodes);
  }

  async function write() {
    at("change-write").disabled = true;
    try {
      await ask("change", { ...pending, new: field().value });
      leave();
      refresh();
    } catch (error) { brings(error.message); }
  }

  function begin() {
    for (const id of ["change-figure", "change-words"]) at(id).addEventListener("input", typed);
    at("change-write").addEventListener("click", write);
    at("change-leave").addEventListener("click", leave);
    at("change").addEventListener("cancel", (event) => { event.preventDefault(); leave(); });
    at("change").addEventListener("keydown", (event) => {
      const done = event.key === "Enter" && event.target.id === "change-figure";
      if (event.key === "Escape") leave();
      else if (!done) return;
      else if (!at("change-write").disabled) write();
      event.preventDefault();
      event.stopPropagation();
    });
  }

  return { begin, watch, forget, open, leaveIn };
})();
