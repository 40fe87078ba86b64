// The beginning: the engine is unpacked while what the browser has kept is read. A campaign inside the page comes first when nothing is kept.

async function start() {
  buildShell();
  await startKeeping();
  const [before, state] = await Promise.all([kept("campaign"), kept("bench")]);
  const inside = JSON.parse(document.getElementById("campaign").textContent);
  if (before && before.name !== null) Object.assign(campaign, before);
  else if (inside) Object.assign(campaign, {name: inside.name, text: inside.text, log: "", saved: true});
  if (state) bench.state = state;
  await startEngine();
  await goTo(location.hash.slice(1));
}

// For tests, and for who looks into it: the engine, and the campaign as it stands.
window.holdfast = {ask, campaign, started: start()};
