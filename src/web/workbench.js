// What a page gains over plain forms: keys for full hands, a beat to hear, a screen that stays awake. Without it every page still works.

const press = (move) => {
  const button = document.querySelector(`[data-move="${move}"]`);
  if (button && !button.disabled) button.click();
  return Boolean(button);
};

document.addEventListener("keydown", (event) => {
  // a key held in a field, or on a control of its own, keeps its meaning there
  if (event.repeat || event.altKey || event.ctrlKey || event.metaKey) return;
  if (event.target.closest("input, select, textarea, summary, a")) return;
  const move = { " ": "next", Enter: "next", Backspace: "back" }[event.key];
  if (move && press(move)) event.preventDefault();
});

// the count is moved in place, so that a quick hand does not wait for a page
for (const counter of document.querySelectorAll("[data-counter]")) {
  let queue = Promise.resolve();
  counter.addEventListener("submit", (event) => {
    event.preventDefault();
    const move = event.target.querySelector("[data-move]").dataset.move;
    queue = queue.then(async () => {
      const form = counter.querySelector(`[data-move="${move}"]`)?.closest("form");
      if (!form || form.querySelector("button").disabled) return;
      try {
        const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)) });
        if (!answer.ok) throw new Error(await answer.text());
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        counter.replaceChildren(...page.querySelector("[data-counter]").childNodes);
        counter.querySelector("[data-move=next]").focus({ preventScroll: true });
      } catch (fault) {
        let told = counter.querySelector("[role=alert]");
        if (!told) {
          told = document.createElement("p");
          told.className = "wrong";
          told.setAttribute("role", "alert");
          counter.prepend(told);
        }
        told.textContent = `Not kept, press again: ${fault.message}`;
      }
    });
  });
}

// awake while a step is counted, where the browser grants it; granted again when the page comes back
if (document.querySelector("[data-counter], [data-beat]") && "wakeLock" in navigator) {
  const stay = () => document.visibilityState === "visible" && navigator.wakeLock.request("screen").catch(() => {});
  document.addEventListener("visibilitychange", stay);
  stay();
}

for (const button of document.querySelectorAll("[data-beat]")) {
  const beat = document.querySelector(".beat");
  const seconds = Number(beat.dataset.seconds);
  let timer = 0;
  let sound;
  const tick = () => {
    beat.classList.add("now");
    setTimeout(() => beat.classList.remove("now"), Math.min(200, seconds * 400));
    const tone = sound.createOscillator();
    const level = sound.createGain();
    level.gain.setValueAtTime(0.3, sound.currentTime);
    level.gain.exponentialRampToValueAtTime(0.001, sound.currentTime + 0.12);
    tone.frequency.value = 660;
    tone.connect(level).connect(sound.destination);
    tone.start();
    tone.stop(sound.currentTime + 0.13);
  };
  button.addEventListener("click", () => {
    if (timer) {
      clearInterval(timer);
      timer = 0;
      button.textContent = "Start the beat";
      return;
    }
    sound ??= new AudioContext();
    button.textContent = "Stop the beat";
    tick();
    timer = setInterval(tick, seconds * 1000);
  });
}
