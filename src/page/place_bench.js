// Bench: one part, one rung, what to put on, the clock, and what the part did. Every tap is kept before anything else happens.

// state: {part, at: rung that is being loaded, since: moment its dwell began or null, dropped}
// ticked: the lines of the safety list that were looked at, and of which campaign.
const bench = {state: null, sheet: null, open: false, ticked: {of: null, lines: []}};

function leaveBench() {
  stopClock();
}

async function keepBench(state) {
  bench.state = state;
  await keepAs("bench", state);
}

async function showBench(view) {
  if (!needsCampaign(view)) return;
  const sheet = await question(["sheet", "FILE", "--json"]);
  if (sheet.code !== 0) {
    fill(view, h("p", {}, "No part is waiting."), h("p", {class: "choices"}, h("a", {class: "button main", href: "#answer"}, "What the pulls prove"),
      h("a", {class: "button", href: "#plan"}, "Plan")), partsRow(), undoButton());
    return;
  }
  bench.sheet = JSON.parse(sheet.out);
  if (!bench.state || !bench.sheet.parts.some(part => part.id === bench.state.part)) await keepBench({part: bench.sheet.parts[0].id, at: 0, since: null, dropped: false});
  drawRung(view);
}

function ladderOf(id) {
  const part = bench.sheet.parts.find(one => one.id === id);
  return (bench.sheet.ladders.find(ladder => ladder.design === part.ladder) || {rungs: []}).rungs;
}

function figure(value) {
  return Number(value.toPrecision(4)) + "\u00a0" + bench.sheet.unit;
}

function drawRung(view) {
  const state = bench.state, rungs = ladderOf(state.part), rung = rungs[Math.min(state.at, rungs.length - 1)];
  if (!rung) return drawWithoutLadder(view);
  const dwell = Number((written().rig || {}).dwell_s ?? 30), left = h("p", {class: "clock", role: "timer"});
  const waiting = state.since !== null;
  const held = button("Held", () => next(view), {class: "main", id: "held", disabled: true});
  fill(view,
    h("p", {class: "part"}, h("b", {}, state.part), ` – rung ${state.at + 1} of ${rungs.length}`),
    h("p", {class: "do"}, rung.do || "leave it as it is"),
    h("p", {class: "hangs"}, "hanging then: " + rung.weights + " – " + figure(rung.force) + " on the part"),
    left,
    h("p", {class: "choices"},
      waiting ? held : button("It hangs: wait", startDwell, {class: "main", id: "hangs"}),
      button(waiting ? "Failed while waiting" : "Failed while adding", () => failed(view, waiting ? "dwell" : "adding"), {id: "failed"}),
      button("Rig let go", () => ended(view, "rig"), {id: "rig"}),
      state.at > 0 ? button("Out of weight", () => ended(view, "held"), {id: "out"}) : null,
      state.at > 0 || waiting ? button("One rung back", () => back(view)) : null),
    h("p", {class: "field inline"}, h("input", {type: "checkbox", id: "dropped", checked: state.dropped,
      onchange: event => keepBench({...bench.state, dropped: event.target.checked})}), h("label", {for: "dropped"}, "the last weight was dropped on")),
    safety(), h("details", {open: bench.open, ontoggle: event => (bench.open = event.target.open)}, h("summary", {}, "All rungs: tap the one that is being loaded"), h("ol", {class: "rungs"}, rungs.map((one, i) =>
      h("li", {}, button(figure(one.force) + " – " + one.weights, () => jump(view, i), {"aria-current": i === state.at ? "step" : null}))))),
    partsRow(), undoButton());
  if (waiting) startClock(state.since, dwell, seconds => (left.textContent = seconds ? seconds + " s" : "Look: does it hold?"), () => {
    held.disabled = false;
    if (document.activeElement === document.body) held.focus();
    if (Date.now() - state.since < 1000 * dwell + 2000) ring();
  });

  async function startDwell() {
    wakeSound();
    await keepBench({...bench.state, since: Date.now()});
    drawRung(view);
  }
}

async function next(view) {
  const rungs = ladderOf(bench.state.part);
  stopClock();
  if (bench.state.at + 1 >= rungs.length) return ended(view, "held", rungs.length);
  await keepBench({...bench.state, at: bench.state.at + 1, since: null, dropped: false});
  drawRung(view);
  view.querySelector("#hangs").focus();
}

async function back(view) {
  const {at, since} = bench.state;
  stopClock();
  await keepBench({...bench.state, at: since === null ? at - 1 : at, since: null});
  drawRung(view);
}

async function jump(view, at) {
  stopClock();
  await keepBench({...bench.state, at, since: null});
  drawRung(view);
}

function load(rung) {
  return String(Number(rung.recorded.toPrecision(12))) + bench.sheet.unit;
}

function failed(view, phase) {
  const {at, dropped} = bench.state, rungs = ladderOf(bench.state.part);
  const words = ["--failed", load(rungs[at]), "--phase", phase, ...(at ? ["--held", load(rungs[at - 1])] : []), ...(dropped ? ["--dropped"] : [])];
  confirm(view, `failed ${phase === "dwell" ? "while waiting at" : "on the way to"} ${figure(rungs[at].force)}`, words, true);
}

// The part did not fail: the weights ran out, or the rig let go. `done`: rungs it held.
function ended(view, outcome, done = bench.state.at) {
  const rungs = ladderOf(bench.state.part), words = ["--outcome", outcome, ...(done ? ["--held", load(rungs[done - 1])] : [])];
  confirm(view, outcome === "held" ? `held ${figure(rungs[done - 1].force)} and was not broken` : "the rig let go", words, false);
}

// The one look before it is written: what will stand there, how it failed, anything worth keeping.
function confirm(view, what, words, asksMode) {
  const modes = [...new Set(designsWritten().flatMap(design => design.specimens || []).map(part => part.mode).filter(mode => typeof mode === "string"))];
  const held = words.includes("--held") ? words[words.indexOf("--held") + 1] + " held, " : "";
  const form = h("form", {class: "confirm", onsubmit: event => {
    event.preventDefault();
    write([]);
  }},
    h("p", {class: "do"}, `${bench.state.part}: ${held}${what}`),
    asksMode ? [field("mode", "How it failed", {list: "modes"}), h("datalist", {id: "modes"}, modes.map(mode => h("option", {value: mode}))),
      h("p", {class: "choices"}, modes.map(mode => button(mode, () => write([], mode))))] : null,
    field("note", "Remark"), field("photo", "Name of a photo"),
    h("p", {class: "choices"}, h("button", {type: "submit", class: "main", id: "keep"}, "Write it down"), button("Back", () => drawRung(view))),
    h("div", {class: "doubts", role: "alert"}));
  stopClock();
  fill(view, form);
  form.querySelector(asksMode ? "#keep" : "button").focus();

  async function write(more, mode) {
    const typed = name => (form.elements[name] ? form.elements[name].value.trim() : ""), rest = [];
    for (const name of ["mode", "note", "photo"]) {
      const value = name === "mode" && mode ? mode : typed(name);
      if (value) rest.push("--" + name, value);
    }
    const result = await change(["record", "FILE", bench.state.part, ...words, ...rest, ...more, "--json"]);
    if (result.code === 0) {
      await keepBench(null);
      return goOn("bench", "bench");
    }
    const asked = result.out.startsWith("{") ? JSON.parse(result.out).questions.map(one => one.text.replace(/^--/, "")) : notesOf(result);
    fill(form.querySelector(".doubts"), asked.map(line => h("p", {}, line)),
      result.out ? h("p", {class: "choices"}, button("It is so", () => write(["--sure"], mode))) : null);
  }
}

// A part without a ladder: what held and what broke it are typed.
function drawWithoutLadder(view) {
  const form = h("form", {class: "confirm", onsubmit: write}, h("p", {class: "do"}, bench.state.part), h("p", {class: "hint"}, "No ladder is planned for it."),
    field("held", "Last load that held"), field("failed", "Load at which it failed"), field("peak", "Or the highest reading of a scale"), field("mode", "How it failed"),
    h("p", {}, h("button", {class: "main", type: "submit"}, "Write it down")));
  fill(view, form, safety(), partsRow(), undoButton());

  async function write(event) {
    event.preventDefault();
    const said = ["held", "failed", "peak", "mode"].flatMap(name => (form.elements[name].value.trim() ? ["--" + name, form.elements[name].value.trim()] : []));
    const result = await change(["record", "FILE", bench.state.part, ...said]);
    if (result.code !== 0) return say(notesOf(result));
    await keepBench(null);
    goTo("bench");
  }
}

// The safety list of the worksheet, to tick; it stays open until all of it was looked at. Nothing is locked by it.
function safetyList(lines) {
  const ticked = new Set(bench.ticked.of === campaign.name ? bench.ticked.lines : []), summary = h("summary", {});
  const count = () => lines.filter(line => ticked.has(line)).length;
  const tell = () => (summary.textContent = `Before anything hangs: ${count()} of ${lines.length} looked at`);
  tell();
  return h("details", {class: "safety", open: count() < lines.length}, summary, lines.map((line, at) => h("p", {class: "field inline"},
    h("input", {type: "checkbox", id: "safety-" + at, checked: ticked.has(line), onchange: async ({target}) => {
      if (target.checked) ticked.add(line);
      else ticked.delete(line);
      tell();
      bench.ticked = {of: campaign.name, lines: [...ticked]};
      await keepAs("safety", bench.ticked);
    }}), h("label", {for: "safety-" + at}, line))));
}

function safety() {
  return [safetyList(bench.sheet.safety), later("The worksheet, with the rule when to stop", "The worksheet", () => question(["sheet", "FILE"]))];
}

// All parts with what stands of them in the file.
function partsRow() {
  const said = part => ["held", "failed", "peak"].filter(key => part[key] !== undefined).map(key => key + " " + part[key]).join(", ");
  return h("details", {open: true}, h("summary", {}, "All parts"), designsWritten().map(design => h("p", {class: "parts"}, h("b", {}, String(design.name || design.id)), " ",
    (design.specimens || []).map(part => h("span", {class: "chip " + (part.outcome === "planned" ? "planned" : "done")},
      part.id + (part.outcome === "planned" ? "" : ": " + [part.outcome === "failed" ? "" : part.outcome, said(part)].filter(Boolean).join(" ")))))));
}

function undoButton() {
  return h("p", {class: "choices"}, button("Undo the last change", async () => {
    const result = await change(["undo", "FILE", "--json"]);
    if (result.code !== 0) return say(notesOf(result));
    await keepBench(null);
    await goTo(shell.place);
    say("Taken back: " + JSON.parse(result.out).taken_back.command);
  }, {disabled: !campaign.log, id: "undo"}));
}
