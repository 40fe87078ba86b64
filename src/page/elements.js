// Elements are made here and nowhere else: a text is a text node whatever it holds, so nothing of a campaign is ever read as markup.

function h(tag, attributes, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes || {})) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value" || (name in element && typeof value !== "string")) element[name] = value;
    else if (value !== null && value !== undefined) element.setAttribute(name, value);
  }
  element.append(...children.flat().filter(child => child !== null && child !== undefined && child !== false));
  return element;
}

function fill(element, ...children) {
  element.replaceChildren(...children.flat().filter(child => child !== null && child !== undefined && child !== false));
}

function button(words, onclick, attributes) {
  return h("button", {type: "button", onclick, ...attributes}, words);
}

// A labelled input; `help` stands under it. value: what it holds at first.
function field(name, label, {value = "", help = "", ...attributes} = {}) {
  const id = "field-" + name, input = h("input", {id, name, value, autocomplete: "off", ...attributes});
  if (help) input.setAttribute("aria-describedby", id + "-help");
  return h("p", {class: "field"}, h("label", {for: id}, label), input, help ? h("small", {id: id + "-help"}, help) : null);
}

// What the engine wrote to people: its lines without the command's name.
function notesOf(result) {
  return result.notes.split("\n").map(line => line.replace(/^holdfast[\w ]*: /, "")).filter(Boolean);
}

// A page of the engine's own in a frame that runs nothing; as high as what stands in it. The policy lets no style in from a text, the frame's
// neither: it is set by the page, sheet by sheet and element by element.
function frame(title, markup) {
  const sheets = [], bare = markup.replace(/<style>([^<]*)<\/style>/g, (found, sheet) => (sheets.push(sheet), "")).replace(/(<[^<>]*) style="/g, '$1 data-style="');
  const element = h("iframe", {title, sandbox: "allow-same-origin", srcdoc: bare});
  element.made = markup; // as the engine made it, for who looks into the page
  element.addEventListener("load", () => {
    const inside = element.contentDocument;
    if (!inside) return;
    inside.adoptedStyleSheets = sheets.map(text => {
      const sheet = new element.contentWindow.CSSStyleSheet();
      sheet.replaceSync(text);
      return sheet;
    });
    for (const one of inside.querySelectorAll("[data-style]")) one.style.cssText = one.dataset.style;
    const fit = () => element.contentDocument && (element.style.height = element.contentDocument.documentElement.scrollHeight + "px");
    fit();
    new ResizeObserver(fit).observe(element);
  });
  return element;
}

// A page of the engine's that is made when somebody opens it.
function later(words, title, question) {
  return h("details", {ontoggle: async ({target}) => {
    if (!target.open || target.children.length > 1) return;
    const waiting = target.appendChild(h("p", {class: "hint"}, "Computing …")), page = await question();
    waiting.replaceWith(page.out ? frame(title, page.out) : h("div", {}, notesOf(page).map(line => h("p", {}, line))));
  }}, h("summary", {}, words));
}
