// The beginning: the engine is unpacked while the page is laid out.

const started = startEngine();
window.holdfast = {ask, started};
