// File: open, save, what can be made of it, its history, and the file itself: by its keys and as text.

function download(name, content, type) {
  const address = URL.createObjectURL(new Blob([content], {type}));
  h("a", {href: address, download: name}).click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

const handle = {file: null}; // where the browser can write a file again in its place

async function save() {
  try {
    if (!handle.file && window.showSaveFilePicker) handle.file = await showSaveFilePicker({suggestedName: campaign.name});
    if (handle.file) {
      const stream = await handle.file.createWritable();
      await stream.write(campaign.text);
      await stream.close();
    } else download(campaign.name, campaign.text, "application/json");
  } catch (error) {
    if (error.name === "AbortError") return;
    handle.file = null;
    download(campaign.name, campaign.text, "application/json");
  }
  campaign.saved = true;
  await keep();
  tellSaved();
}

function share() {
  const file = new File([campaign.text], campaign.name, {type: "application/json"});
  navigator.share({files: [file]}).catch(() => {});
}

async function pickFile() {
  if (window.showOpenFilePicker) {
    const [from] = await showOpenFilePicker().catch(() => []);
    return from && openFile(await from.getFile(), from);
  }
  const input = h("input", {type: "file", accept: ".json,.csv,.txt"});
  input.addEventListener("change", () => input.files.length && openFile(input.files[0]));
  input.click();
}

async function openFile(file, from = null) {
  const text = await file.text(), table = /\.(csv|txt)$/i.test(file.name), open = campaign.name !== null;
  if (table && !open) return say("A table is added to a campaign: begin or open one first.");
  if (table || (open && text !== campaign.text && !(await replaces(file.name)))) return addFrom(table ? "table.csv" : "other.json", file.name, text, []);
  handle.file = from;
  await take(file.name.replace(/[^\w.-]/g, "-").replace(/^-+/, "") || "campaign.json", text, "", true);
  await keepBench(null);
  const checked = await question(["check", "FILE"]);
  go(checked.code === 0 ? "answer" : "file");
}

// Whether another campaign takes the place of the open one; else its pulls are added.
function replaces(name) {
  return choose(`${campaign.name} is open${campaign.saved ? "" : " and not saved as a file"}.`,
    [["Add the new pulls of " + name, false, "add"], ["Open " + name + " in its place", true, "replace"]]);
}

// Pulls of a table or of another campaign: all that is new, or nothing and what stands against it.
async function addFrom(beside, name, text, more) {
  const result = await change(["import", "FILE", beside, ...more], {files: {[beside]: text}});
  await goTo("file");
  if (result.code === 0) return say(`From ${name}: `, notesOf(result), result.out.split("\n").filter(Boolean));
  fill(shell.words, h("p", {}, `Nothing is taken from ${name}:`), doubts(result, option => addFrom(beside, name, text, [...more, ...option])));
}

addEventListener("dragover", event => event.preventDefault());
addEventListener("drop", event => {
  event.preventDefault();
  if (event.dataTransfer.files.length) openFile(event.dataTransfer.files[0]);
});

async function showFile(view) {
  const about = JSON.parse(document.getElementById("about").textContent);
  const last = h("details", {}, h("summary", {}, "About this page"), h("p", {}, `Holdfast ${about.version}${about.commit ? ", commit " + about.commit : ""}.`),
    h("p", {class: "long"}, "SHA-256 of its engine: " + about.engine), h("p", {}, "It asks the network for nothing, and what you enter stays in this browser."));
  const beginning = h("p", {class: "choices"}, button("New test", () => leave(() => showBeginningAgain())), button("Open a file", pickFile),
    button("Look at an example", () => leave(openExample)));
  if (campaign.name === null) return fill(view, beginning, last);
  const made = [["Report", ["report", "FILE"], "-report.html", "text/html"], ["Worksheet", ["sheet", "FILE"], "-sheet.html", "text/html"],
    ["Notebook", ["notebook", "FILE"], ".ipynb", "application/json"], ["Pulls as a table", ["export", "FILE"], ".csv", "text/csv"]];
  fill(view, h("p", {class: "choices"}, button("Save the file", save, {class: "main", id: "save"}), navigator.canShare ? button("Share", share) : null), beginning,
    h("h2", {}, "Made from it"), h("p", {class: "choices"}, made.map(([words, ...rest]) => button(words, () => saveMade(...rest)))),
    h("h2", {}, "What was changed"), undoButton(), await historyList(),
    h("h2", {}, "Goal, rig, weights, designs"), await keysForm(() => goTo("file")), h("details", {}, h("summary", {}, "Put a pull right"), await pullForm(() => goTo("file"))),
    h("h2", {}, "The file as text"), textForm(), last);
}

function leave(then) {
  if (campaign.saved || confirmLeaving()) then();
}

function confirmLeaving() {
  return window.confirm(campaign.name + " is not saved as a file. Go on and lose it?");
}

async function showBeginningAgain() {
  await take(null, "", "", true);
  await keepBench(null);
  handle.file = null;
  go("plan");
}

async function historyList() {
  const history = await answerOf(["history", "FILE", "--json"]);
  const changes = history ? history.changes.filter(change => change.command) : [];
  if (!changes.length) return h("p", {class: "hint"}, "Nothing was changed in this browser yet.");
  return h("details", {}, h("summary", {}, changes.length === 1 ? "1 change" : changes.length + " changes"), h("ol", {}, changes.map(change =>
    h("li", {class: change.standing === "stands" ? null : "gone"}, change.at.slice(0, 16).replace("T", " ") + " – " + change.command))));
}

function textForm() {
  const area = h("textarea", {id: "text", rows: "16", spellcheck: false, "aria-label": "The file as text", value: campaign.text, oninput: check}), found = h("ul", {class: "findings"});
  const use = button("Use this text", async () => {
    await take(campaign.name, area.value, campaign.log, false);
    await goTo("file");
  }, {disabled: true});
  return h("div", {}, area, found, h("p", {class: "choices"}, use));

  async function check() {
    const result = await ask(["check", campaign.name], {[campaign.name]: area.value}, {topic: "check"});
    use.disabled = result.code !== 0 || area.value === campaign.text;
    fill(found, notesOf(result).map(line => {
      const place = line.match(/^[^:]+:(\d+):(\d+): (.*)$/);
      return h("li", {}, place ? button(`line ${place[1]}: ${place[3]}`, () => mark(Number(place[1]))) : line);
    }));
  }

  function mark(line) {
    const lines = area.value.split("\n"), start = lines.slice(0, line - 1).reduce((sum, one) => sum + one.length + 1, 0);
    area.focus();
    area.setSelectionRange(start, start + (lines[line - 1] || "").length);
  }
}
