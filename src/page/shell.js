// The four places and what stands around them.

const places = [
  {id: "plan", name: "Plan", show: showPlan},
  {id: "bench", name: "Bench", show: showBench},
  {id: "answer", name: "Answer", show: showAnswer},
  {id: "file", name: "File", show: showFile},
];
const shell = {place: "plan"};

function buildShell() {
  shell.title = h("h1", {id: "title"});
  shell.state = h("p", {id: "state", role: "status"});
  shell.words = h("div", {id: "words", role: "alert"});
  shell.main = h("main", {id: "main", tabindex: "-1"});
  shell.links = places.map(place => h("a", {href: "#" + place.id}, place.name));
  document.body.append(h("header", {}, shell.title, shell.state), h("nav", {"aria-label": "Places"}, shell.links), shell.words, shell.main,
    h("footer", {}, "For new parts as tested, under short loads. Not for lifting or holding people, climbing, fall arrest or loads over heads; local codes win."));
  addEventListener("hashchange", () => goTo(location.hash.slice(1)));
  addEventListener("keydown", event => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input, textarea, select, dialog")) return;
    const place = places["1234".indexOf(event.key)];
    if (place && event.key) location.hash = place.id;
  });
}

// To a place, by its address: what stands there is then drawn by goTo, at once where we are there already.
function go(id) {
  if (location.hash === "#" + id) goTo(id);
  else location.hash = id;
}

// On to a place when something is done, unless the person has gone elsewhere meanwhile.
function goOn(from, id) {
  if (shell.place === from) go(id);
}

// Draws a place anew. What the one before still computes for itself is given up, so that nobody waits for it.
async function goTo(id) {
  const place = places.find(one => one.id === id) || places[0];
  shell.place = place.id;
  shell.links.forEach((link, at) => link.toggleAttribute("aria-current", places[at] === place));
  leaveBench();
  for (const topic of ["live", "plan", "report"]) cancel(topic);
  say();
  tellSaved();
  const view = h("div", {class: place.id});
  fill(shell.main, view);
  try {
    await place.show(view);
  } catch (error) {
    tellFault(error);
  }
}

function tellFault(error) {
  say("The engine gave up: " + (error && error.message) + ". Nothing of the campaign is lost; save the file, then try again.");
}

addEventListener("unhandledrejection", event => tellFault(event.reason));

// Lines that want to be read now; none: nothing does.
function say(...lines) {
  fill(shell.words, lines.flat().map(line => h("p", {}, line)));
}

// A question of the page's own, in place of what stands there. ways: [words, answer, id], the first one leads.
function choose(words, ways) {
  return new Promise(resolve => fill(shell.main, h("p", {}, words),
    h("p", {class: "choices"}, ways.map(([way, answer, id], at) => button(way, () => resolve(answer), {id, class: at ? null : "main"})))));
}

function tellSaved() {
  const named = campaign.name !== null;
  shell.title.textContent = named ? written().title || campaign.name : "Holdfast";
  tellKeeping();
  document.title = named ? campaign.name + " – Holdfast" : "Holdfast";
}

function tellKeeping() {
  const lost = campaign.name !== null && !keeping.works;
  shell.state.classList.toggle("danger", lost);
  if (lost) shell.state.textContent = "This browser keeps nothing: save the file after each pull (place File).";
  else if (campaign.name === null) shell.state.textContent = "From pulls on a rig to a working load.";
  else shell.state.textContent = campaign.name + (campaign.saved ? "" : " – kept in this browser, not yet saved as a file");
}

// A place needs a campaign: true when there is one, else says how to get one.
function needsCampaign(view) {
  if (campaign.name !== null) return true;
  fill(view, h("p", {}, "No campaign is open."), h("p", {}, h("a", {class: "button", href: "#plan"}, "Begin one")));
  return false;
}
