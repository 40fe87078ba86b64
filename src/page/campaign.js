// The campaign as a text with its journal, and the two ways to the engine: a question, and a change. The page holds both texts; whatever
// happens to a worker, they stay.

// origin: the text that this page came with, when it did.
const campaign = {name: null, text: "", log: "", saved: true, origin: null};

function filesOf() {
  if (campaign.name === null) return {};
  return {[campaign.name]: campaign.text, ...(campaign.log ? {[campaign.name + ".log"]: campaign.log} : {})};
}

// A question: nothing changes. FILE among the words stands for the campaign; `files` stand beside it.
function question(words, {files = {}, ...options} = {}) {
  return ask(words.map(word => (word === "FILE" ? campaign.name : word)), {...filesOf(), ...files}, options);
}

async function answerOf(words, options) {
  const result = await question(words, options);
  return result.out.startsWith("{") ? JSON.parse(result.out) : null;
}

// A change by a command of the program, journal and all. The result, whether it changed anything or not.
async function change(words, options) {
  const result = await question(words, options);
  const text = result.files[campaign.name];
  if (text !== undefined && text !== campaign.text) await take(campaign.name, text, result.files[campaign.name + ".log"] || "", false);
  return result;
}

// Another text takes the place of what is there: opened, new, edited by hand.
async function take(name, text, log, saved) {
  Object.assign(campaign, {name, text, log, saved});
  await keep();
  tellSaved();
}

// The campaign as it is written, for what only the file says; {} while it cannot be read.
function written() {
  try {
    return JSON.parse(campaign.text);
  } catch (error) {
    return {};
  }
}

function designsWritten() {
  const designs = written().designs;
  return Array.isArray(designs) ? designs.filter(design => design && typeof design === "object") : [];
}

// A name as an id, or as that of a file: letters, digits, dashes.
function idOf(name, taken, most = 20) {
  const stem = name.toLowerCase().normalize("NFKD").replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, most).replace(/-$/, "") || "design";
  let id = stem;
  for (let i = 2; taken.includes(id); i++) id = stem + "-" + i;
  return id;
}
