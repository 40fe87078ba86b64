// The beginning: the engine is unpacked while what the browser has kept is read.

// A page may come with a campaign inside, and the browser may have kept another one: files opened from a disk share what is kept.
async function beginWith(inside, before) {
  const isKept = before && before.name !== null;
  if (inside && isKept && before.origin !== inside.text && before.text !== inside.text && !(await prefersKept(inside, before))) return startWith(inside);
  if (isKept) return Object.assign(campaign, before);
  if (inside) await startWith(inside);
}

async function startWith(inside) {
  campaign.origin = inside.text;
  await take(inside.name, inside.text, "", true);
  await keepBench(null);
}

function prefersKept(inside, before) {
  return choose(`This page brings ${inside.name}, and this browser has kept ${before.name}${before.saved ? "" : ", which is not saved as a file"}.`,
    [["Go on with " + before.name, true, "kept"], ["Open " + inside.name, false, "inside"]]);
}

async function start() {
  buildShell();
  await startKeeping();
  const engine = startEngine(), [before, state, ticked] = await Promise.all([kept("campaign"), kept("bench"), kept("safety")]);
  if (state) bench.state = state;
  if (ticked) bench.ticked = ticked;
  await beginWith(JSON.parse(document.getElementById("campaign").textContent), before);
  await engine;
  await goTo(location.hash.slice(1));
}

// On a host that serves it the page can be installed; a file cannot.
if (document.querySelector("link[rel=manifest]") && navigator.serviceWorker) navigator.serviceWorker.register("service-worker.js").catch(() => {});

// For tests, and for who looks into it: the engine, and the campaign as it stands.
window.holdfast = {ask, calls, campaign, started: start()};
