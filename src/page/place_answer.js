// Answer: the report, as the program makes it, and what more pulls would bring.

async function showAnswer(view) {
  if (!needsCampaign(view)) return;
  const report = h("div", {}, h("p", {class: "hint"}, "Computing …"));
  const more = later("What would more pulls bring?", "What more pulls would bring", () => question(["plan", "next", "FILE", "--format", "html"]));
  fill(view, h("p", {class: "choices"}, button("Save the report", () => saveMade(["report", "FILE"], "-report.html", "text/html")),
    button("Save a card", saveCard)), report, more);
  const made = await question(["report", "FILE"], {topic: "report"});
  if (made.out) fill(report, frame("The report", made.out));
  else fill(report, notesOf(made).map(line => h("p", {}, line)), h("p", {}, h("a", {class: "button", href: "#bench"}, "To the bench")));
}

function stem() {
  return campaign.name.replace(/\.json$/, "");
}

async function saveMade(words, ending, type) {
  const result = await question(words);
  if (!result.out) return say(notesOf(result));
  download(stem() + ending, result.out, type);
}

async function saveCard() {
  const result = await question(["chart", "card", "FILE"]);
  if (!result.out) return say(notesOf(result));
  const image = new Image();
  image.src = "data:image/svg+xml;charset=utf-8," + encodeURIComponent(result.out);
  await image.decode();
  const canvas = h("canvas", {width: 1200, height: 630});
  canvas.getContext("2d").drawImage(image, 0, 0, 1200, 630);
  canvas.toBlob(blob => download(stem() + "-card.png", blob, "image/png"));
}
