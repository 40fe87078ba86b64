// The dwell: counted from the clock, not from ticks, so that a page that slept is right when it wakes. It begins at a moment of the day, which a
// reload does not change.

const clock = {timer: null, lock: null, sound: null};

function startClock(since, seconds, show, end) {
  stopClock();
  const began = performance.now() - (Date.now() - since);
  let rung = false;
  const tick = () => {
    const left = seconds - (performance.now() - began) / 1000;
    show(Math.max(0, Math.ceil(left)));
    if (left > 0 || rung) return;
    rung = true;
    stopClock();
    end();
  };
  clock.timer = setInterval(tick, 100);
  holdAwake();
  tick();
}

function stopClock() {
  clearInterval(clock.timer);
  clock.timer = null;
  if (clock.lock) clock.lock.release().catch(() => {});
  clock.lock = null;
}

function holdAwake() {
  if (!navigator.wakeLock || document.hidden) return;
  navigator.wakeLock.request("screen").then(lock => (clock.timer ? (clock.lock = lock) : lock.release())).catch(() => {});
}

document.addEventListener("visibilitychange", () => clock.timer && holdAwake());

// Within a tap, so that the bell may sound later.
function wakeSound() {
  if (!clock.sound && window.AudioContext) clock.sound = new AudioContext();
  if (clock.sound) clock.sound.resume();
}

function ring() {
  if (navigator.vibrate && navigator.userActivation && navigator.userActivation.hasBeenActive) navigator.vibrate([200, 100, 200]);
  if (!clock.sound) return;
  const tone = clock.sound.createOscillator(), volume = clock.sound.createGain(), now = clock.sound.currentTime;
  tone.frequency.value = 880;
  volume.gain.setValueAtTime(0.3, now);
  volume.gain.exponentialRampToValueAtTime(0.001, now + 0.8);
  tone.connect(volume).connect(clock.sound.destination);
  tone.start(now);
  tone.stop(now + 0.8);
}
