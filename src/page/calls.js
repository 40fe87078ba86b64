// Questions to the engine, one at a time and in order. The page keeps the campaign; a fault or a cancelled question costs a worker only.

const calls = {waiting: [], now: null, worker: null, module: null, next: 1};

async function startEngine() {
  const element = document.getElementById("engine"), stream = new Blob([bytesOf(element.textContent)]).stream().pipeThrough(new DecompressionStream("gzip"));
  calls.engine = unpack(new Uint8Array(await new Response(stream).arrayBuffer()), element.dataset.tables);
  calls.module = await WebAssembly.compile(calls.engine);
  startWorker();
}

function startWorker() {
  const source = new Blob([document.getElementById("worker").textContent], {type: "text/javascript"});
  const address = URL.createObjectURL(source);
  calls.worker = new Worker(address);
  URL.revokeObjectURL(address);
  calls.worker.onmessage = ({data}) => heard(data);
  calls.worker.onerror = event => calls.now && heard({id: calls.now.id, fault: event.message});
  calls.worker.postMessage({module: calls.module});
  askNext();
}

function heard(data) {
  const call = calls.now;
  if (!call || data.id !== call.id) return;
  if ("progress" in data) {
    if (call.progress) call.progress(data.progress);
    return;
  }
  calls.now = null;
  if (data.result) call.resolve(data.result);
  else call.reject(new Error(data.fault));
  askNext();
}

function askNext() {
  if (calls.now || !calls.worker || !calls.waiting.length) return;
  calls.now = calls.waiting.shift();
  calls.worker.postMessage({id: calls.now.id, words: calls.now.words, files: calls.now.files});
}

// ask(words, files, {progress, topic}): {code, out, notes, files}. A question whose topic is asked anew is dropped: its promise stays open.
function ask(words, files = {}, {progress, topic} = {}) {
  if (topic) cancel(topic);
  return new Promise((resolve, reject) => {
    calls.waiting.push({id: calls.next++, words, files, progress, topic, resolve, reject});
    askNext();
  });
}

function cancel(topic) {
  calls.waiting = calls.waiting.filter(call => call.topic !== topic);
  if (!calls.now || calls.now.topic !== topic) return;
  calls.now = null;
  calls.worker.terminate();
  startWorker();
}
