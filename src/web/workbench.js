// What a page gains over plain forms: changes shown in place and marked, keys for full hands, a beat to hear, a voice, a screen that stays
// awake, and every open page looking again when another changes something. Without it every page still works.

// --- changes in place ---------------------------------------------------------------------------------------------------------------------

// what a change touched is marked for a moment, and a drawing until the next change
const mark = (node) => {
  const element = node.nodeType === Node.ELEMENT_NODE ? node : node.parentElement;
  const marked = element?.closest("tr, figure, .check, .count, .told, li, p");
  if (!marked) return;
  marked.classList.remove("fresh");
  void marked.offsetWidth;
  marked.classList.add("fresh");
};

// what was sent last: the form, and how it was filled
let sent;

// a field in use keeps what is typed in it, but for what was just sent; a fold stays as the reader left it
const mine = (node) =>
  node === document.activeElement &&
  node.matches?.("input, textarea") &&
  node.value !== node.defaultValue &&
  !(node.form === sent?.form && node.value === sent.body.get(node.name));

const attributes = (old, now) => {
  for (const { name } of [...old.attributes]) {
    if (!now.hasAttribute(name) && !(name === "open" && old.tagName === "DETAILS")) old.removeAttribute(name);
  }
  for (const { name, value } of now.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  if (old.tagName === "INPUT" || old.tagName === "TEXTAREA") old.value = now.value;
  if (old.tagName === "SELECT") old.value = now.value;
};

const alike = (old, now) => old.nodeType === now.nodeType && old.nodeName === now.nodeName && (old.id ?? "") === (now.id ?? "");

// a drawing is redrawn whole, whatever changed in it
const whole = (node) => node.nodeName.toLowerCase() === "svg";

const replace = (old, now) => {
  const fresh = document.importNode(now, true);
  old.replaceWith(fresh);
  mark(fresh);
};

const morph = (old, now) => {
  // a drawing that comes later leaves the one before in its place till then
  if (now.dataset?.late && alike(old, now)) {
    old.dataset.late = now.dataset.late;
    return;
  }
  if (old.isEqualNode(now) || (mine(old) && alike(old, now))) return;
  if (!alike(old, now) || whole(now)) {
    replace(old, now);
  } else if (old.nodeType === Node.ELEMENT_NODE) {
    attributes(old, now);
    children(old, now);
  } else if (old.data !== now.data) {
    old.data = now.data;
    mark(old);
  }
};

// what is there already is kept where it is and changed; what has a name is found by it wherever it stands
const children = (old, now) => {
  let at = old.firstChild;
  for (const node of now.childNodes) {
    const named = node.id ? [...old.children].find((one) => alike(one, node)) : undefined;
    const match = named ?? (at && alike(at, node) ? at : undefined);
    if (!match) {
      const fresh = document.importNode(node, true);
      old.insertBefore(fresh, at);
      mark(fresh);
      continue;
    }
    if (match === at) at = at.nextSibling;
    else old.insertBefore(match, at);
    morph(match, node);
  }
  while (at) {
    const next = at.nextSibling;
    at.remove();
    at = next;
  }
};

const patch = (page) => {
  for (const name of ["main", "header"]) {
    const [old, now] = [document.querySelector(name), page.querySelector(name)];
    if (old && now) morph(old, now);
  }
  document.title = page.title;
  // the next question is answered where the last one was, whichever button was pressed
  document.querySelector(".question [autofocus]")?.focus();
  wire();
};

// --- drawings that take long come after their page, one after the other --------------------------------------------------------------------

const asked = new WeakMap();
let drawn = Promise.resolve();

const bring = async (figure) => {
  const from = figure.dataset.late;
  if (!figure.isConnected || asked.get(figure) !== from) return;
  const answer = await fetch(from, { signal: leaving.signal });
  const [now] = answer.ok ? parsed(await answer.text()).body.children : [];
  // the plan may have moved on meanwhile: then the next one is on its way
  if (!now || figure.dataset.late !== from) return;
  const fresh = document.importNode(now, true);
  const before = figure.querySelector("svg, .sheet img");
  figure.replaceWith(fresh);
  if (before) mark(fresh);
};

const bringLate = () => {
  for (const figure of document.querySelectorAll("[data-late]")) {
    if (asked.get(figure) === figure.dataset.late) continue;
    asked.set(figure, figure.dataset.late);
    drawn = drawn.then(() => bring(figure)).catch(() => asked.delete(figure));
  }
};

const parsed = (text) => new DOMParser().parseFromString(text, "text/html");

// one change after the other, in the order they were made
let queue = Promise.resolve();
const inTurn = (work) => (queue = queue.then(work, work));

const tell = (words) => {
  let told = document.querySelector("#main > .lost");
  if (!told) {
    told = document.createElement("p");
    told.className = "wrong lost";
    told.setAttribute("role", "alert");
    document.querySelector("#main h1").after(told);
  }
  told.textContent = words;
};

const filled = (form, button) => new URLSearchParams(new FormData(form, button ?? undefined));

const send = async (form, to, body) => {
  let answer;
  try {
    answer = await fetch(to, { method: "POST", body });
  } catch {
    tell("The workbench does not answer. What you did last is not kept: try again when it is back.");
    return;
  }
  const text = await answer.text();
  if (!(answer.headers.get("content-type") ?? "").startsWith("text/html")) {
    tell(text);
    return;
  }
  if (answer.redirected && new URL(answer.url).pathname !== location.pathname) {
    location.assign(answer.url);
    return;
  }
  sent = { form, body };
  patch(parsed(text));
  sent = undefined;
};

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post") return;
  event.preventDefault();
  const counter = form.closest("[data-counter]");
  if (!counter) {
    // as it stood when it was sent, whatever the page has become when its turn comes
    const [to, body] = [form.action, filled(form, event.submitter)];
    inTurn(() => send(form, to, body));
    return;
  }
  // a quick hand does not wait for a page: the form is read when its turn comes, with the count as it then stands
  const move = form.querySelector("[data-move]").dataset.move;
  inTurn(async () => {
    const now = document.querySelector(`[data-counter] [data-move="${move}"]`);
    if (now && !now.disabled) await send(now.form, now.form.action, filled(now.form));
  });
});

// a field is taken as soon as it is left
document.addEventListener("change", (event) => {
  const form = event.target.closest("form.field, form[data-live]");
  if (form) form.requestSubmit();
});

// --- every open page sees every change ------------------------------------------------------------------------------------------------------

const look = () =>
  inTurn(async () => {
    const answer = await fetch(location.href, { headers: { accept: "text/html" } });
    if (answer.ok) patch(parsed(await answer.text()));
  });

// A page that was left may be kept to come back to. It lets go of its lines to the workbench, of which a browser has six in all, and takes
// them up again when it is shown.
let leaving = new AbortController();

if (document.querySelector("nav[aria-label=Screens]")) {
  let seen;
  let told;
  const listen = () => {
    told = new EventSource("/events");
    told.addEventListener("changed", ({ data }) => {
      if (seen !== undefined && seen !== data) look().catch(() => {});
      seen = data;
    });
  };
  listen();
  addEventListener("pagehide", () => {
    told.close();
    leaving.abort();
  });
  addEventListener("pageshow", ({ persisted }) => {
    if (!persisted) return;
    leaving = new AbortController();
    listen();
    look().catch(() => {});
  });
  // a phone that slept has missed what was told meanwhile
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && look().catch(() => {}));
}

// --- keys for full hands ----------------------------------------------------------------------------------------------------------------------

const press = (move) => {
  const button = document.querySelector(`[data-counter] [data-move="${move}"]`);
  if (button) button.click();
  return Boolean(button);
};

document.addEventListener("keydown", (event) => {
  // a key held in a field, or on a control of its own, keeps its meaning there
  if (event.repeat || event.altKey || event.ctrlKey || event.metaKey) return;
  if (event.target.closest("input, select, textarea, summary, a, button:not([data-move])")) return;
  const move = { " ": "next", Enter: "next", Backspace: "back" }[event.key];
  if (move && press(move)) event.preventDefault();
});

// --- numbers of a drawing at a tap ------------------------------------------------------------------------------------------------------------

document.addEventListener("click", (event) => {
  document.querySelector(".tip")?.remove();
  const words = event.target.closest?.(".cw g")?.querySelector(":scope > title")?.textContent;
  if (!words) return;
  const tip = document.createElement("p");
  tip.className = "tip";
  tip.setAttribute("role", "status");
  tip.textContent = words;
  event.target.closest("figure, .sheet").append(tip);
});

// --- what a page has only sometimes -------------------------------------------------------------------------------------------------------------

let beat = 0;
let sound;

const tick = (field, seconds) => {
  field.classList.add("now");
  setTimeout(() => field.classList.remove("now"), Math.min(200, seconds * 400));
  const tone = sound.createOscillator();
  const level = sound.createGain();
  level.gain.setValueAtTime(0.3, sound.currentTime);
  level.gain.exponentialRampToValueAtTime(0.001, sound.currentTime + 0.12);
  tone.frequency.value = 660;
  tone.connect(level).connect(sound.destination);
  tone.start();
  tone.stop(sound.currentTime + 0.13);
};

const beatClicked = ({ currentTarget: button }) => {
  if (beat) {
    clearInterval(beat);
    beat = 0;
    button.textContent = "Start the beat";
    return;
  }
  const field = document.querySelector(".beat");
  const seconds = Number(field.dataset.seconds);
  sound ??= new AudioContext();
  button.textContent = "Stop the beat";
  tick(field, seconds);
  beat = setInterval(() => tick(field, seconds), seconds * 1000);
};

let speaks = false;
let said = "";
const speak = () => {
  const words = document.querySelector("[data-say]")?.dataset.say;
  if (!speaks || !words || words === said) return;
  said = words;
  speechSynthesis.cancel();
  speechSynthesis.speak(new SpeechSynthesisUtterance(words));
};

const speakClicked = ({ currentTarget: button }) => {
  speaks = !speaks;
  said = "";
  button.setAttribute("aria-pressed", String(speaks));
  button.textContent = speaks ? "Say no more" : "Say it aloud";
  speak();
};

// eyes and back want a rest before they ask for one
const REST_AFTER = 40 * 60 * 1000;
const began = Date.now();
setInterval(() => {
  const rest = document.querySelector("[data-rest]");
  if (rest && Date.now() - began > REST_AFTER) rest.textContent = "Forty minutes at one stretch: stand up, look far away, shake the hands out.";
}, 30_000);

// --- awake while a hand is busy -------------------------------------------------------------------------------------------------------------------

// The browser grants a wake lock on this machine and under https only. On a name of the local network a silent picture is kept playing instead,
// which also keeps a screen on; it is drawn here and recorded here, so that nothing is fetched.
const silentPicture = async () => {
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = 16;
  const pen = canvas.getContext("2d");
  const video = document.createElement("video");
  video.muted = true;
  video.loop = true;
  video.playsInline = true;
  video.dataset.awake = "";
  video.setAttribute("aria-hidden", "true");
  video.className = "awake";
  const recorder = new MediaRecorder(canvas.captureStream(10));
  const pieces = [];
  recorder.ondataavailable = ({ data }) => pieces.push(data);
  const done = new Promise((end) => (recorder.onstop = end));
  recorder.start();
  for (let frame = 0; frame < 12; frame += 1) {
    pen.fillStyle = frame % 2 ? "#000" : "#010101";
    pen.fillRect(0, 0, 16, 16);
    await new Promise((next) => setTimeout(next, 100));
  }
  recorder.stop();
  await done;
  video.src = URL.createObjectURL(new Blob(pieces, { type: recorder.mimeType }));
  document.body.append(video);
  await video.play();
};

let awake = false;
const stayAwake = () => {
  if (awake || !document.querySelector("[data-counter], [data-beat]")) return;
  awake = true;
  if ("wakeLock" in navigator) {
    const ask = () => document.visibilityState === "visible" && navigator.wakeLock.request("screen").catch(() => {});
    document.addEventListener("visibilitychange", ask);
    ask();
    return;
  }
  // a browser plays only after a touch or a key
  const play = () => {
    removeEventListener("pointerdown", play);
    removeEventListener("keydown", play);
    silentPicture().catch(() => {});
  };
  addEventListener("pointerdown", play);
  addEventListener("keydown", play);
};

function wire() {
  for (const button of document.querySelectorAll("[data-beat]")) button.onclick = beatClicked;
  for (const button of document.querySelectorAll("[data-speak]")) {
    button.hidden = !("speechSynthesis" in window);
    button.onclick = speakClicked;
    if (speaks) {
      button.setAttribute("aria-pressed", "true");
      button.textContent = "Say no more";
    }
  }
  bringLate();
  speak();
  stayAwake();
}
wire();
