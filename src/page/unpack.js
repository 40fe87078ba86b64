// The engine as it stands in the page, back to bytes: join.py writes five letters for four.

function bytesOf(text) {
  const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!#$%&()*+-;,=>?@^_`{|}~", value = new Uint8Array(128);
  for (let i = 0; i < alphabet.length; i++) value[alphabet.charCodeAt(i)] = i;
  const start = text.indexOf(" ") + 1, groups = (text.length - start) / 5, view = new DataView(new ArrayBuffer(4 * groups));
  for (let group = 0; group < groups; group++) {
    let number = 0;
    for (let i = start + 5 * group; i < start + 5 * group + 5; i++) number = 85 * number + value[text.charCodeAt(i)];
    view.setUint32(4 * group, number);
  }
  return new Uint8Array(view.buffer, 0, Number(text.slice(0, start)));
}

// What pack.py has taken out of the engine is put back: each number of a table is a whole number divided by a power of ten.

function unpack(packed, places) {
  const runs = places ? places.split(",").map(place => place.split(":").map(Number)) : [], total = runs.reduce((sum, run) => sum + run[1], 0);
  const rest = packed.length - 5 * total, powers = Array.from({length: 23}, (_, power) => Number("1e" + power));
  const engine = new Uint8Array(rest + 8 * total), view = new DataView(engine.buffer), plane = at => rest + at * total;
  let from = 0, to = 0, number = 0;
  for (const [first, count] of [...runs, [engine.length, 0]]) {
    engine.set(packed.subarray(from, from + first - to), to);
    from += first - to;
    to = first;
    for (const end = number + count; number < end; number++, to += 8) {
      const whole = packed[plane(1) + number] + 256 * (packed[plane(2) + number] + 256 * (packed[plane(3) + number] + 256 * packed[plane(4) + number]));
      view.setFloat64(to, whole / powers[packed[plane(0) + number]], true);
    }
  }
  return engine;
}
