import { Chart, keyedSpells } from "/chart.js";
import { $, change, get, post, tell, token, untell } from "/station.js";
import { Study } from "/study.js";

const chart = new Chart($("chart"));
let rows = [];
let next = 0;
let tried = null;      // spells of the opening level that is being tried
let inForce = null;    // the opening level of the station
let status = null;
const unheard = "it does not answer; whether the key is open is not known: look at the transmitter";
let lost = "";         // why nothing is heard of the station any more
let stood = "";        // mode and key as shown last

const study = new Study({ now: () => (rows.length ? rows[rows.length - 1][0] : null), changed: () => seldom() });

// ---- what is shown ----

const causes = {
  quiet: "microphone under the threshold", voice: "a voice above the threshold",
  qualifying: "above the threshold, waiting whether it is a voice",
  masked: "loud enough, but explained by the loudspeaker",
  blanked: "waiting for relays or loudspeaker to settle",
  withheld: "waiting, since the loudspeaker has keyed it of late", not_speech: "loud enough, but no voice",
  steady: "a steady tone, no voice", not_finite: "a sample was no number",
};

function headline(last, keyed) {
  if (lost) return "No word from the station";
  if (!status) return "no word yet";
  if (status.trouble) return "Not ready: " + status.trouble;
  if (keyed) return `On the air, ${last[9].toFixed(1)} s`;
  if (status.mode === "safe") return "Safe: nothing keys";
  if (status.state === "locked_out" && status.mode === "keyed") return "Locked out until the key is forced again or the station armed";
  if (status.state === "locked_out") return "Locked out until the microphone is quiet";
  return "Receiving";
}

// What holds or opens the key: whether anybody speaks plays no part in a forced one.
function why(last, keyed) {
  if (!keyed || !last[8]) return causes[last[7]] || last[7];
  const left = status ? ` in ${Math.max(0, status.longest_over_s - last[9]).toFixed(0)} s` : "";
  return `keyed by hand, whatever the microphone hears: "Receive now" or another mode opens the key, else the time limit${left}`;
}

function show() {
  const last = lost ? undefined : rows[rows.length - 1];
  const keyed = Boolean(last && last[6]);
  const stands = `${status && status.mode} ${keyed}`;
  if (stands !== stood) untell();
  stood = stands;
  const text = headline(last, keyed);
  if ($("headline").textContent !== text) $("headline").textContent = text;
  $("headline").classList.toggle("air", keyed);
  $("headline").setAttribute("aria-live", keyed ? "off" : "polite");
  if (lost) {
    $("why").textContent = lost;
    $("numbers").textContent = "\u00a0";
  } else if (last) {
    $("why").textContent = why(last, keyed);
    $("numbers").textContent = `microphone ${last[1].toFixed(1)}, receiver ${last[2].toFixed(1)}, ` +
      `expected ${last[3].toFixed(1)}, floor ${last[4].toFixed(1)}, threshold ${last[5].toFixed(1)} dBFS`;
  }
  chart.draw(rows, tried, inForce === null ? undefined : Number($("open").value));
}

function showIdentify() {
  const text = status.identify ? "Time to identify: say your call." : "";
  if ($("identify").textContent !== text) $("identify").textContent = text;
}

// What the settings ask for and the station goes without, each with its reason.
function showMissing() {
  const text = (status.missing || []).join("; ");
  if ($("missing").textContent !== text) $("missing").textContent = text;
}

function showMode() {
  for (const button of document.querySelectorAll("[data-mode]")) {
    button.setAttribute("aria-pressed", String(status.mode === button.dataset.mode));
  }
  $("no-key").hidden = status.may_transmit;
  study.hears(status.receiver);
  study.stands(status.mode);
  document.querySelector("[data-mode=keyed]").disabled = !status.may_transmit;
}

function showOvers(overs) {
  const body = $("overs");
  body.replaceChildren(...overs.slice().reverse().map((over) => {
    const row = document.createElement("tr");
    const cells = [new Date(over.began).toLocaleTimeString(), over.length_s.toFixed(1) + " s",
      over.keyed_by.replaceAll("_", " "), over.ended_by.replaceAll("_", " "), over.peak_dbfs.toFixed(1) + " dBFS"];
    for (const text of cells) row.insertCell().textContent = text;
    row.insertCell().append(...(over.mark ? ["marked " + over.mark] : markButtons(over.over)));
    return row;
  }));
}

const marks = { false: "mark this over as falsely keyed", late: "mark this over as keyed too late" };

function markButtons(over) {
  return Object.entries(marks).map(([as, about]) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = as;
    button.setAttribute("aria-label", about);
    button.addEventListener("click", async () => { if (await change({ do: "mark", as, over })) seldom(); });
    return button;
  });
}

$("missed").addEventListener("click", () => change({ do: "mark", as: "missed" }));

// ---- trying another opening level ----

function tryLevel(level) {
  $("open").value = level;
  $("open-text").textContent = Number($("open").value).toFixed(1);
  $("take").disabled = Number($("open").value) === inForce;
  return estimate();
}

// Of the last two minutes, which move on: made again every other second.
async function estimate() {
  try {
    const answer = await post("/api/try", { open_dbfs: Number($("open").value) });
    if (!answer.spells) { $("tried").textContent = answer.why; return; }
    tried = answer.spells;
    const seconds = tried.reduce((sum, [from, to]) => sum + to - from, 0);
    const text = `The last two minutes: about ${tried.length} times keyed, ${seconds.toFixed(0)} s in all; ` +
      `it was ${keyedSpells(rows).length} times.`;
    if ($("tried").textContent !== text) $("tried").textContent = text;
  } catch { tell("the station does not answer"); }
  show();
}

$("open").addEventListener("input", () => tryLevel($("open").value));
$("take").addEventListener("click", async () => {
  if (await change({ do: "set", key: "gate.open_dbfs", value: $("open").value })) seldom();
});
$("save").addEventListener("click", async () => { if (await change({ do: "save" })) seldom(); });

let dragging = false;
const drag = (event) => { if (dragging && inForce !== null) tryLevel(chart.levelAt(event.offsetY).toFixed(1)); };
$("chart").addEventListener("pointerdown", (event) => {
  dragging = true;
  $("chart").setPointerCapture(event.pointerId);
  drag(event);
});
$("chart").addEventListener("pointermove", drag);
$("chart").addEventListener("pointerup", () => { dragging = false; });
$("chart").addEventListener("keydown", (event) => {
  const step = { ArrowUp: 0.5, ArrowDown: -0.5, PageUp: 5, PageDown: -5 }[event.key];
  if (!step || inForce === null) return;
  event.preventDefault();
  tryLevel(Number($("open").value) + step);
});

// ---- modes ----

for (const button of document.querySelectorAll("[data-mode]")) {
  button.addEventListener("click", async () => { if (await change({ do: "mode", mode: button.dataset.mode })) seldom(); });
}
const receive = async () => { if (await change({ do: "mode", mode: "safe" })) seldom(); };
$("receive").addEventListener("click", receive);
document.addEventListener("keydown", (event) => { if (event.key === "Escape") receive(); });

// ---- the clock of the page ----

async function often() {
  try {
    const answer = await get("/api/levels?since=" + next);
    if (answer.next < next || (answer.levels.length && rows.length && answer.levels[0][0] < rows[rows.length - 1][0])) rows = [];
    next = answer.next;
    rows = rows.concat(answer.levels).slice(-3000);
    lost = "";
  } catch (error) {
    status = null;
    lost = error instanceof TypeError || error.name === "TimeoutError" ? unheard : error.message;
  }
  show();
  setTimeout(often, 120);
}

async function seldom() {
  try {
    status = await get("/api/status");
    showMode();
    showIdentify();
    showMissing();
    showOvers((await get("/api/overs")).overs);
    $("save").disabled = status.not_saved.length === 0;
    const { settings } = await get("/api/settings");
    study.settle(settings);
    const setting = settings.find((one) => one.key === "gate.open_dbfs");
    if (setting && Number(setting.value) !== inForce) {
      inForce = Number(setting.value);
      $("open").disabled = false;
      if (token) tryLevel(inForce);
      else { $("open").value = inForce; $("open-text").textContent = inForce.toFixed(1); }
    } else if (token && inForce !== null) {
      estimate();
    }
    if (!token) tell("to change anything, open the address that tripline page prints");
  } catch { /* often() tells */ }
}

often();
seldom();
setInterval(seldom, 2000);
