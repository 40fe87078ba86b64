// Looks at the page as it is shown now and returns what is wrong with it, one line each. arguments[0]: names of checks, or none for all.
const SVG = "http://www.w3.org/2000/svg";
const found = [];
const all = (what, from) => Array.from((from || document).querySelectorAll(what));
const blame = (check, words) => found.push(check + ": " + words);
const short = text => JSON.stringify((text || "").trim().slice(0, 60));

// ---- colours, as WCAG 2 has them

function rgba(text) {
  const parts = (text.match(/[\d.]+%?/g) || []).map(p => p.endsWith("%") ? parseFloat(p) * 2.55 : parseFloat(p));
  return text.startsWith("rgb") ? [parts[0], parts[1], parts[2], parts.length > 3 ? parts[3] : 1] : null;
}

function over(top, below) {
  return [0, 1, 2].map(i => top[i] * top[3] + below[i] * (1 - top[3])).concat(1);
}

function luminance(color) {
  const [r, g, b] = color.slice(0, 3).map(c => c / 255).map(c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a, b) {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

// What an element of the page stands on: its own background and those of all around it.
function ground(element) {
  const layers = [];
  for (let e = element; e; e = e.parentElement) {
    const color = rgba(getComputedStyle(e).backgroundColor);
    if (color && color[3] > 0) layers.push(color);
    if (color && color[3] === 1) break;
  }
  const dark = matchMedia("(prefers-color-scheme: dark)").matches && !matchMedia("print").matches &&
               getComputedStyle(document.documentElement).colorScheme.includes("dark");
  return layers.reverse().reduce((below, top) => over(top, below), dark ? [18, 18, 18, 1] : [255, 255, 255, 1]);
}

function paint(shape, kind) {
  const style = getComputedStyle(shape), color = rgba(style[kind]);
  if (!color) return null;
  color[3] *= parseFloat(style[kind + "Opacity"]) * parseFloat(style.opacity);
  return color[3] > 0 ? color : null;
}

const shapes = svg => all("rect, path, circle, line, polygon, polyline, ellipse", svg);
const box = e => e.getBoundingClientRect();
const seen = r => r.width > 0 || r.height > 0;
const inside = (r, x, y) => x >= r.left && x <= r.right && y >= r.top && y <= r.bottom;

// The filled shapes of a chart in the order of drawing, read once: [shape, fill, box, matrix to its own places].
const filled = new Map();
function layers(svg) {
  if (!filled.has(svg))
    filled.set(svg, shapes(svg).map(shape => [shape, paint(shape, "fill"), box(shape)]).filter(layer => layer[1])
      .map(layer => layer.concat(layer[0].getScreenCTM().inverse())));
  return filled.get(svg);
}

// What lies under a place of a chart: the filled shapes drawn before `element` that hold it.
function chart_ground(svg, element, x, y) {
  let color = ground(svg);
  for (const [shape, fill, r, matrix] of layers(svg)) {
    if (!inside(r, x, y) || !(shape.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING)) continue;
    if (shape.isPointInFill(new DOMPoint(x, y).matrixTransform(matrix))) color = over(fill, color);
  }
  return color;
}

// Places on the outline of a shape, in the window: a line that passes under others is seen where it does not.
function places(shape) {
  const length = shape.getTotalLength(), matrix = shape.getScreenCTM();
  return [0.1, 0.3, 0.5, 0.7, 0.9].map(share => shape.getPointAtLength(share * length).matrixTransform(matrix));
}

const charts = () => all("svg").filter(svg => !svg.parentElement || svg.parentElement.namespaceURI !== SVG).filter(svg => seen(box(svg)));
const texts = svg => all("text", svg).filter(t => t.textContent.trim() && seen(box(t)));

// ---- checks

const checks = {
  structure() {
    if (document.documentElement.namespaceURI === SVG) return;
    if (!document.documentElement.lang) blame("structure", "no language");
    if (!document.title.trim()) blame("structure", "no title");
    if (!document.querySelector("meta[name=viewport]")) blame("structure", "no viewport");
    if (document.compatMode !== "CSS1Compat") blame("structure", "not in standards mode");
    if (!document.querySelector("main")) blame("structure", "no main part");
    const ids = all("[id]").map(e => e.id);
    ids.filter((id, n) => ids.indexOf(id) !== n).forEach(id => blame("structure", "id twice: " + short(id)));
    for (const name of ["aria-labelledby", "aria-describedby"])
      for (const e of all("[" + name + "]"))
        e.getAttribute(name).split(/\s+/).filter(id => !ids.includes(id)).forEach(id => blame("structure", name + " leads nowhere: " + short(id)));
    for (const a of all("a[href^='#']"))
      if (!ids.includes(decodeURIComponent(a.getAttribute("href").slice(1)))) blame("structure", "link leads nowhere: " + short(a.getAttribute("href")));
    for (const table of all("table"))
      if (!table.querySelector("th")) blame("structure", "table without heads: " + short(table.textContent));
  },

  headings() {
    if (document.documentElement.namespaceURI === SVG) return;
    let last = 0;
    const heads = all("h1, h2, h3, h4, h5, h6").filter(h => seen(box(h)));
    if (heads.filter(h => h.tagName === "H1").length !== 1 || heads[0].tagName !== "H1") blame("headings", "the page does not begin with its one h1");
    for (const head of heads) {
      const level = Number(head.tagName[1]);
      if (level > last + 1) blame("headings", head.tagName + " follows h" + last + ": " + short(head.textContent));
      if (!head.textContent.trim()) blame("headings", "empty " + head.tagName);
      last = level;
    }
  },

  // Nothing that runs, loads or leads outside, whatever names the file held.
  safety() {
    if (window.stolen) blame("safety", "a name of the file ran as a script");
    all("script, iframe, object, embed, link, base, form, img, image, audio, video, foreignObject, use, animate, set")
      .forEach(e => blame("safety", "element " + e.tagName));
    for (const e of all("*"))
      for (const a of Array.from(e.attributes)) {
        if (/^on/i.test(a.name)) blame("safety", e.tagName + " has " + a.name);
        if (/^(href|xlink:href|src|srcset|action|formaction|data)$/i.test(a.name) && !a.value.startsWith("#")) blame("safety", a.name + " " + short(a.value));
        if (/url\(\s*['"]?(?!#)/i.test(a.value) && a.name === "style") blame("safety", "style " + short(a.value));
      }
    for (const sheet of all("style"))
      if (/@import|url\(/i.test(sheet.textContent)) blame("safety", "a style sheet refers outside");
    for (const meta of all("meta[http-equiv]"))
      if (/refresh/i.test(meta.httpEquiv)) blame("safety", "the page goes elsewhere by itself");
  },

  overflow() {
    const width = window.innerWidth, page = document.scrollingElement || document.documentElement;
    if (document.documentElement.namespaceURI === SVG) return;
    if (page.scrollWidth <= width) return;
    blame("overflow", "the page is " + page.scrollWidth + " wide in a window of " + width);
    const scrolls = e => e && e !== document.documentElement && (/auto|scroll|hidden|clip/.test(getComputedStyle(e).overflowX) || scrolls(e.parentElement));
    all("body *").filter(e => box(e).right > width + 1 && !scrolls(e.parentElement) && e.namespaceURI !== SVG).slice(0, 3)
      .forEach(e => blame("overflow", e.tagName + "." + e.className + " " + short(e.textContent)));
  },

  // What can be scrolled can be reached by keyboard and has a name; on paper nothing can be scrolled, so nothing may be cut off.
  regions() {
    const paper = matchMedia("print").matches;
    for (const e of all("body *")) {
      const style = getComputedStyle(e);
      const cut = /auto|scroll|hidden|clip/.test(style.overflowX) && e.scrollWidth > e.clientWidth + 1 && e.namespaceURI !== SVG && e.clientWidth > 1;
      if (!cut) continue;
      if (paper) blame("regions", "cut off on paper: " + e.tagName + "." + e.className + " " + short(e.textContent));
      else if (/hidden|clip/.test(style.overflowX)) blame("regions", "cut off: " + e.tagName + "." + e.className + " " + short(e.textContent));
      else if (e.tabIndex < 0) blame("regions", "cannot be reached by keyboard: " + e.tagName + "." + e.className + " " + short(e.textContent));
      else if (!e.getAttribute("aria-label") && !e.getAttribute("aria-labelledby")) blame("regions", "no name: " + e.tagName + "." + e.className);
    }
  },

  // A table is no wider than its place, be that a column, and no number in it is broken over two lines, whether it is laid out as a table
  // or as blocks. In columns every one begins with the heads and a line under them, and the rows of all columns stand beside each other.
  tables() {
    for (const table of all("table")) {
      const parent = table.parentElement, style = getComputedStyle(parent), columns = parseInt(style.columnCount, 10) || 1;
      const room = (parent.clientWidth - (columns - 1) * (parseFloat(style.columnGap) || 0)) / columns;
      const widest = Math.max(...Array.from(table.getClientRects(), r => r.width));
      if ((columns === 1 && table.scrollWidth > room + 1) || widest > room + 1)
        blame("tables", "a table of " + Math.round(widest) + " in a " + (columns > 1 ? "column" : "place") + " of " + Math.round(room) + ": " + short(table.textContent));
      if (columns > 1) {
        const left = box(parent).left, step = room + (parseFloat(style.columnGap) || 0), column = r => Math.floor((r.left - left + 2) / step), tops = {};
        const leaves = cell => seen(box(cell)) && box(cell).right - left - column(box(cell)) * step > room + 1.5;
        all("td, th", table).filter(leaves).slice(0, 1).forEach(cell => blame("tables", "a cell leaves its column: " + short(cell.textContent)));
        for (const row of all("tbody tr", table).filter(row => seen(box(row)))) (tops[column(box(row))] ||= []).push(box(row).top);
        const first = Object.values(tops).map(list => list[0]);
        if (Math.max(...first) - Math.min(...first) > 1) blame("tables", "rows of columns not beside each other: " + first.map(Math.round) + " " + short(table.textContent));
        if (getComputedStyle(table).borderCollapse !== "separate" || getComputedStyle(table.tHead.rows[0].cells[0]).borderBottomWidth === "0px")
          blame("tables", "heads of further columns without a line: " + short(table.textContent));
        if (all("caption", table).some(caption => caption.offsetHeight > 1)) blame("tables", "a caption within a column: " + short(table.textContent));
      }
      for (const cell of all("td.n, tbody th.n", table)) {
        if (!seen(box(cell))) continue;
        const range = document.createRange();
        range.selectNodeContents(cell);
        const tops = Array.from(range.getClientRects()).map(r => r.top);
        if (Math.max(...tops) - Math.min(...tops) > 4) { blame("tables", "a broken number: " + short(cell.textContent)); break; }
      }
    }
  },

  // Texts of a chart keep clear of each other and stay inside of it. Letters do not fill their line: an eighth of it above and below is air.
  overlaps() {
    for (const svg of charts()) {
      const frame = box(svg);
      const boxes = texts(svg).map(t => {
        const r = box(t), air = r.height / 8;
        return { text: t.textContent, left: r.left, right: r.right, top: r.top + air, bottom: r.bottom - air };
      });
      boxes.forEach((a, n) => {
        if (a.left < frame.left - 0.5 || a.right > frame.right + 0.5 || a.top < frame.top - 0.5 || a.bottom > frame.bottom + 0.5)
          blame("overlaps", "leaves the chart: " + short(a.text));
        for (const b of boxes.slice(n + 1))
          if (a.left < b.right - 0.5 && b.left < a.right - 0.5 && a.top < b.bottom && b.top < a.bottom)
            blame("overlaps", short(a.text) + " and " + short(b.text));
      });
    }
  },

  // On paper 7.5 points, 10 pixels.
  legible() {
    const paper = matchMedia("print").matches, least = paper ? 10 : 11;
    for (const svg of charts())
      for (const t of texts(svg)) {
        const size = parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a;
        if (size < 9 && !paper) return blame("legible", "text of " + size.toFixed(1) + " px in a chart: " + short(t.textContent));
      }
    for (const e of all("body *"))
      if (e.namespaceURI !== SVG && parseFloat(getComputedStyle(e).fontSize) < least && e.textContent.trim()) return blame("legible", "text below " + least + " px: " + short(e.textContent));
  },

  contrast() {
    const say = (a, b) => contrast(a, b).toFixed(2) + " to 1";
    const walk = document.createTreeWalker(document.body || document.documentElement, NodeFilter.SHOW_TEXT);
    const done = new Set();
    while (walk.nextNode()) {
      const e = walk.currentNode.parentElement;
      if (done.has(e) || e.namespaceURI === SVG || !walk.currentNode.data.trim() || !seen(box(e))) continue;
      done.add(e);
      const below = ground(e), ink = over(rgba(getComputedStyle(e).color), below);
      if (contrast(ink, below) < 4.5) blame("contrast", say(ink, below) + ": " + short(walk.currentNode.data));
    }
    for (const svg of charts()) {
      for (const t of texts(svg)) {
        const r = box(t), below = chart_ground(svg, t, (r.left + r.right) / 2, (r.top + r.bottom) / 2), ink = paint(t, "fill");
        if (!ink || contrast(over(ink, below), below) < 4.5) blame("contrast", (ink ? say(over(ink, below), below) : "no ink") + ": " + short(t.textContent));
      }
      // Grid, paper and the wash of a band are helpers; all other lines and areas say something.
      for (const shape of shapes(svg)) {
        if (shape.matches(".grid, .paper, .soft") || !seen(box(shape))) continue;
        const inks = ["fill", "stroke"].map(kind => paint(shape, kind)).filter(ink => ink);
        let best = 21;
        for (const at of inks.length ? places(shape) : []) {
          const below = chart_ground(svg, shape, at.x, at.y);
          best = Math.max(...inks.map(ink => contrast(over(ink, below), below)));
          if (best >= 3) break;
        }
        if (best < 3) blame("contrast", best.toFixed(2) + " to 1: shape " + shape.getAttribute("class"));
      }
    }
  },

  // On paper, and in light mode, the ground is light; in dark mode it is dark, except for a sheet that is made for paper.
  ground() {
    const dark = matchMedia("(prefers-color-scheme: dark)").matches && !matchMedia("print").matches;
    const only_light = getComputedStyle(document.documentElement).colorScheme === "light";
    const judge = (color, what) => {
      const light = luminance(color);
      if (dark && !only_light ? light > 0.1 : light < 0.8) blame("ground", what + " is " + (light > 0.5 ? "light" : "dark"));
    };
    if (document.body) judge(ground(document.body), "the page");
    for (const svg of charts()) judge(chart_ground(svg, svg.lastElementChild, box(svg).left + 2, box(svg).top + 2), "a chart");
  },
};

const wanted = arguments[0] && arguments[0].length ? arguments[0] : Object.keys(checks);
wanted.forEach(name => checks[name]());
return found;
