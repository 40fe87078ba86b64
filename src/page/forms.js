// Forms for what a campaign says: its keys and those of a design by `set`, a pull by `record`. The engine names them, checks and writes.

const groups = {"": "The file", rig: "Rig", goal: "Goal", guess: "Guess", scatter: "Scatter known before", between_batches: "Scatter between batches", info: "Notes"};

// All keys of the file, or of one design, group by group.
async function keysForm(after) {
  const ids = designsWritten().map(design => String(design.id)), rows = h("div", {});
  const of = h("select", {id: "of", onchange: () => show()}, h("option", {value: ""}, "the whole file"), ids.map(id => h("option", {value: id}, "design " + id)));
  await show();
  return h("div", {class: "keys"}, h("p", {class: "field"}, h("label", {for: "of"}, "Of"), of), rows);

  function ofDesign() {
    return of.value ? ["--design", of.value] : [];
  }

  async function show() {
    const listed = await answerOf(["set", "FILE", "--json", ...ofDesign()]), keys = listed ? listed.keys : [];
    const groupOf = key => (key.includes(".") ? key.split(".")[0] : "");
    fill(rows, [...new Set(keys.map(one => groupOf(one.key)))].map(group =>
      h("details", {}, h("summary", {}, groups[group] || group), groupForm(keys.filter(one => groupOf(one.key) === group)))));
  }

  function groupForm(keys) {
    const label = key => key.split(".").pop().replace(/_/g, " ");
    return h("form", {onsubmit: event => {
      event.preventDefault();
      write(event.target, keys);
    }}, keys.map(({key, value, takes}) => field("key-" + key, label(key), {value: value ?? "", help: takes + "; nothing: take it away"})),
      h("p", {class: "choices"}, h("button", {type: "submit"}, "Write what I changed")));
  }

  // All that was changed together, since some keys need each other; then what was emptied.
  async function write(form, keys) {
    const typed = ({key}) => form.elements["key-" + key].value.trim(), changed = keys.filter(one => typed(one) !== (one.value ?? ""));
    const full = changed.filter(typed), empty = changed.filter(one => !typed(one)), told = [];
    for (const words of [full.flatMap(one => [one.key, typed(one)]), empty.length ? [...empty.map(one => one.key), "--clear"] : []]) {
      if (!words.length) continue;
      const result = await change(["set", "FILE", ...words, ...ofDesign()]);
      if (result.code !== 0) return say(notesOf(result));
      told.push(...notesOf(result), ...result.out.split("\n").filter(Boolean));
    }
    if (!told.length) return say("Nothing was changed.");
    await after();
    say(told);
  }
}

// What stands of one part, to be put right: only what is typed anew is changed.
async function pullForm(after) {
  const known = JSON.parse((await ask(["help", "--json"])).out).commands.find(command => command.name === "record").options;
  const parts = designsWritten().flatMap(design => design.specimens || []).filter(part => part && typeof part.id === "string");
  const keys = ["held", "failed", "peak", "outcome", "phase", "mode", "batch", "date", "note", "photo"].filter(key => known.some(option => option.name === key));
  const fields = h("div", {}), which = h("select", {id: "part", onchange: show}, parts.map(part => h("option", {value: part.id}, part.id)));
  if (!parts.length) return h("p", {class: "hint"}, "No part is planned or pulled yet.");
  show();
  return h("form", {onsubmit: event => {
    event.preventDefault();
    write(event.target, []);
  }}, h("p", {class: "field"}, h("label", {for: "part"}, "Part"), which), fields,
    h("p", {class: "choices"}, h("button", {type: "submit"}, "Write it anew"), button("It was not pulled", clear)), h("div", {class: "doubts", role: "alert"}));

  function standing() {
    return parts.find(part => part.id === which.value);
  }

  function show() {
    const part = standing(), help = key => known.find(option => option.name === key).help;
    fill(fields, keys.map(key => field("pull-" + key, key, {value: part.outcome === "planned" && key === "outcome" ? "" : String(part[key] ?? ""), help: help(key)})));
  }

  async function write(form, more) {
    const words = keys.flatMap(key => {
      const typed = form.elements["pull-" + key].value.trim();
      return typed && typed !== String(standing()[key] ?? "") ? ["--" + key, typed] : [];
    });
    if (!words.length) return say("Nothing was changed.");
    const again = standing().outcome === "planned" ? [] : ["--again"];
    await told(form, await change(["record", "FILE", which.value, ...again, ...words, ...more]), sure => write(form, sure));
  }

  async function clear({target}) {
    await told(target.form, await change(["record", "FILE", which.value, "--clear"]));
  }

  async function told(form, result, once) {
    if (result.code !== 0) return fill(form.querySelector(".doubts"), doubts(result, once));
    await after();
    say(notesOf(result), result.out.split("\n").filter(Boolean));
  }
}

// What the engine asks back, and the buttons that answer it: it names the options itself. again(words): the same once more with these.
const ways = {
  "--take": [["Take what the other file says", ["--take", "theirs"]], ["Keep what this file says", ["--take", "ours"]]],
  "--add-designs": [["Add these designs too", ["--add-designs"]]],
  "--sure": [["It is so", ["--sure"]]],
};

function doubts(result, again) {
  const lines = notesOf(result), named = again ? Object.keys(ways).filter(option => lines.some(line => line.includes(option))) : [];
  return [...lines.map(line => h("p", {}, line)),
    named.length ? h("p", {class: "choices"}, named.flatMap(option => ways[option]).map(([words, option]) => button(words, () => again(option)))) : null];
}
