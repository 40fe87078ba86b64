// The worker: gets the engine once, then one question after another.

let module, engine;

function answer({id, words, files}) {
  let told = 0;
  const progress = done => {
    const now = performance.now();
    if (now - told < 100) return;
    told = now;
    postMessage({id, progress: done});
  };
  try {
    if (!engine) engine = new Engine(module, done => engine.progress(done));
    engine.progress = progress;
    postMessage({id, result: engine.run(words, files)});
  } catch (error) {
    engine = null;
    postMessage({id, fault: String(error && error.message || error)});
  }
}

onmessage = ({data}) => {
  if (data.module) module = data.module;
  else answer(data);
};
