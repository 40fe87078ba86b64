// Plan: what is tested, with which weights, and how many parts on which rungs.

// Invented, so that somebody can go through a day without typing: our sail's three corner fittings.
const inventedDay = {
  title: "Corner fittings (invented)", weights: "6x10kg 2x5kg 4x2kg", tare: "2.6kg", rating: "130kg", "service-load": "9kg", "design-factor": "3",
  designs: [["sewn ring", "60kg", "12%"], ["pressed eyelet", "55kg", "12%"], ["clamped plate", "50kg", "12%"]],
};

async function showPlan(view) {
  if (campaign.name === null) return showBeginning(view);
  const result = h("div", {}), write = button("Write this plan into the file", writePlan, {class: "main", hidden: true});
  const progress = h("progress", {max: "1", "aria-label": "Simulating tests", hidden: true});
  const ids = designsWritten().map(design => String(design.id));
  const planned = designsWritten().some(design => (design.specimens || []).length), sheet = planned ? await answerOf(["sheet", "FILE", "--json"]) : null;
  const which = h("select", {id: "design", onchange: () => show(which.value)}, ids.map(id => h("option", {value: id}, id)));
  fill(view, planned ? h("p", {}, h("a", {class: "button main", href: "#bench"}, "To the bench")) : null, sheet ? safetyList(sheet.safety) : null, write,
    ids.length > 1 ? h("p", {class: "field"}, h("label", {for: "design"}, "Design"), which) : null, progress, result,
    h("details", {}, h("summary", {}, "Change goal, rig, weights or guess"), await keysForm(() => goTo("plan"))));
  await show(ids[0]);

  async function show(id) {
    progress.hidden = false;
    const told = {topic: "plan", progress: done => (progress.value = done)};
    const page = await question(["plan", "FILE", "--format", "html", ...(id ? ["--design", id] : [])], told);
    progress.hidden = true;
    if (page.out) fill(result, frame("The plan", page.out));
    else fill(result, notesOf(page).map(line => h("p", {}, line)));
    write.hidden = planned || !page.out;
  }

  async function writePlan() {
    write.disabled = true;
    progress.hidden = false;
    const done = await change(["plan", "FILE", "--write"], {progress: share => (progress.value = share)});
    if (done.code <= 1) goOn("plan", "bench");
    else {
      write.disabled = false;
      progress.hidden = true;
      say(notesOf(done));
    }
  }
}

function showBeginning(view) {
  fill(view,
    h("p", {}, "Plan a test, pull the parts at the rig, and get the load you may work with. Everything is computed in this page; nothing leaves it."),
    h("p", {class: "choices"}, button("New test", () => showNew(view), {class: "main"}), button("Open a file", pickFile),
      button("Look at an example", openExample)));
}

async function openExample() {
  const result = await ask(["new", "example.json", "--example"]);
  await take("example.json", result.files["example.json"], "", true);
  go("answer");
}

async function showNew(view) {
  const options = JSON.parse((await ask(["help", "--json"])).out).commands.find(command => command.name === "new").options;
  const helpOf = name => options.find(option => option.name === name).help;
  const labels = {title: "What is tested", weights: "Weights you have", tare: "Hanger, hook, lever", rating: "What the rig may carry",
    "service-load": "What a part must hold", "design-factor": "Design factor"};
  const live = h("div", {class: "live"}), designs = h("div", {}), form = h("form", {onsubmit: begin, oninput: soon},
    Object.entries(labels).map(([name, label]) => field(name, label, {help: helpOf(name)})), h("h2", {}, "Designs"),
    h("p", {class: "hint"}, "A guess for each: what a typical part holds, and how much parts scatter (sewn 5 to 10 %, glued by hand 15 to 25 %)."),
    designs, h("p", {class: "choices"}, button("Another design", () => addDesign()), button("Fill in an invented day", invent)),
    h("p", {}, h("button", {class: "main", type: "submit"}, "Plan this test")));
  let timer = null;
  fill(view, h("h2", {}, "New test"), form, live);
  addDesign();
  form.querySelector("input").focus();

  function addDesign(name = "", mean = "", cv = "") {
    const at = designs.children.length + 1;
    designs.append(h("fieldset", {}, h("legend", {}, "Design " + at), field("name-" + at, "Name", {value: name}),
      field("mean-" + at, "Typical strength", {value: mean, help: helpOf("mean")}), field("cv-" + at, "Scatter", {value: cv, help: helpOf("cv")})));
  }

  function invent() {
    for (const name of Object.keys(labels)) form.elements[name].value = inventedDay[name];
    fill(designs);
    for (const design of inventedDay.designs) addDesign(...design);
    soon();
    form.querySelector("[type=submit]").focus();
  }

  // What was typed as a campaign file by the engine's own commands: {file, result}.
  async function asFile(options) {
    const valueOf = name => form.elements[name].value.trim();
    const said = pairs => pairs.flatMap(([name, value]) => (value ? ["--" + name, value] : []));
    const rows = [...designs.children].map((row, i) => ["name", "mean", "cv"].map(part => valueOf(part + "-" + (i + 1)))).filter(row => row.some(Boolean));
    const ids = [], file = idOf(valueOf("title") || "test", [], 60) + ".json";
    for (const [name] of rows) ids.push(idOf(name, ids));
    const guessOf = row => said([["name", row[0]], ["mean", row[1]], ["cv", row[2]]]);
    const first = rows.length ? ["--design", ids[0], ...guessOf(rows[0])] : [];
    let result = await ask(["new", file, ...said(Object.keys(labels).map(name => [name, valueOf(name)])), ...first], {}, options);
    for (let i = 1; i < rows.length && result.code === 0; i++) result = await ask(["add", file, ids[i], ...guessOf(rows[i])], result.files, options);
    return {file, result, first: ids[0], guess: rows.length ? guessOf(["", ...rows[0].slice(1)]) : []};
  }

  // The answer while somebody types: from closed forms at once, then simulated on the ladder of these weights.
  function soon() {
    clearTimeout(timer);
    timer = setTimeout(answerNow, 200);
  }

  async function answerNow() {
    const {file, result, first, guess} = await asFile({topic: "live"});
    if (result.code !== 0) return fill(live, notesOf(result).map(line => h("p", {class: "hint"}, line)));
    if (guess.length < 4) return fill(live);
    for (const [words, files] of [[["plan", ...guess], {}], [["plan", file, "--design", first], result.files]]) {
      const page = await ask([...words, "--format", "html"], files, {topic: "live"});
      if (page.out) fill(live, frame("The plan so far", page.out));
    }
  }

  async function begin(event) {
    event.preventDefault();
    clearTimeout(timer);
    cancel("live");
    const {file, result} = await asFile({});
    if (result.code !== 0) return say(notesOf(result));
    await take(file, result.files[file], "", false);
    await keepBench(null);
    go("plan");
  }
}
