// Setting up by takes of the station's own sound, and the map of margins around what is in force.
import { $, change, get, post, tell, token } from "/station.js";

const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

export class Study {
  // `now`: seconds of the stream, or null without sound; `changed`: called after a setting was changed.
  constructor({ now, changed }) {
    this.now = now;
    this.changed = changed;
    this.takes = {};
    this.receiver = true;
    this.mode = null;        // the station's, as last seen
    this.madeSafe = false;   // by a take; another's safe is not lifted from here
    this.busy = null;        // the name of the take that is being taken
    this.inForce = null;     // the settings as last seen, key to value
    this.offers = [          // of each list what it used itself, and what to do once others have changed the settings
      { list: $("use-measured"), used: new Set(), again: "Take the takes again, and work the settings out anew." },
      { list: $("use-map"), used: new Set(), again: "Draw the map again." },
    ];
    for (const button of document.querySelectorAll("[data-take]")) {
      button.addEventListener("click", () => this.take(button));
    }
    $("measure").addEventListener("click", () => this.measure());
    $("map").addEventListener("click", () => this.map());
    $("arm-again").addEventListener("click", async () => { if (await change({ do: "mode", mode: "armed" })) this.changed(); });
  }

  // A station without receiver audio has no such take.
  hears(receiver) {
    this.receiver = receiver;
    document.querySelector("[data-take=receiver]").closest("li").hidden = !receiver;
    this.allow();
  }

  // The mode as seen now: once the takes are taken the way back is offered.
  stands(mode) {
    this.mode = mode;
    if (mode !== "safe" && !this.busy) this.madeSafe = false;
    $("after-takes").hidden = !this.madeSafe || this.busy !== null;
  }

  allow() {
    const { room, receiver, voice } = this.takes;
    $("measure").disabled = !(room && voice && (receiver || !this.receiver));
  }

  // Nothing may key while the operator speaks for a measurement.
  async take(button) {
    const name = button.dataset.take;
    const told = $("took-" + name);
    if (!token) { told.textContent = "not without the token of the page"; return; }
    if (this.busy) { told.textContent = "one take at a time: press again when the other one is taken"; return; }
    this.busy = name;
    if (this.mode !== "safe") this.madeSafe = true;
    $("after-takes").hidden = true;
    if (!await change({ do: "mode", mode: "safe" })) { this.busy = null; return; }
    const seconds = Number(button.dataset.seconds);
    const from = this.now();
    for (let left = seconds; left > 0 && from !== null && this.busy === name; --left) {
      told.textContent = `listening, ${left} s to go`;
      await wait(1000);
    }
    const to = this.now();
    const spoiled = this.busy !== name;
    this.busy = null;
    this.changed();
    if (spoiled) { told.textContent = "void: settings changed meanwhile; take it again"; return; }
    if (from === null || to === null || to - from < seconds - 1) {
      told.textContent = "no sound came: take it again";
      return;
    }
    this.takes[name] = [from, to];
    told.textContent = `taken, ${(to - from).toFixed(0)} s; press again to repeat`;
    this.allow();
  }

  // The settings in force, as [{key, value}]. When they change the sound kept begins anew: takes are void, and so is
  // what was offered for other settings than these and those it offered itself.
  settle(settings) {
    const now = new Map(settings.map(({ key, value }) => [key, value]));
    const changed = this.inForce === null ? [] : [...now.keys()].filter((key) => now.get(key) !== this.inForce.get(key));
    this.inForce = now;
    if (!changed.length) return;
    this.voidTakes();
    for (const { list, used, again } of this.offers) {
      if (list.childElementCount && !changed.every((key) => used.has(key)))
        list.textContent = `What was offered here is void: ${changed.join(", ")} changed since. ${again}`;
    }
  }

  voidTakes() {
    const names = Object.keys(this.takes);
    this.takes = {};
    for (const name of names) $("took-" + name).textContent = "void: settings changed since, and the sound kept begins anew; take it again";
    if (this.busy) this.busy = "spoiled";
    this.allow();
  }

  async measure() {
    const found = await this.work("/api/measure", this.takes, $("measured"));
    if (!found) return;
    const distances = found.distances.map((d) => `${d.name}: ${d.found_db.toFixed(1)} dB, at least ${d.needed_db.toFixed(1)} dB` +
      (d.cure ? ` \u2014 too small. ${d.cure}` : ""));
    const troubles = found.troubles.map((trouble) => "Trouble in " + trouble);
    if (troubles.length) troubles.push("Take it again: what follows can't be trusted.", "");
    const replayed = ["", "The sound kept, replayed with these settings:", found.replayed.trimEnd()];
    $("measured").textContent = troubles.concat(found.measured, distances, replayed).join("\n") +
      (found.good || troubles.length ? "" : "\nNo setting can make up for that: change it and take it again.");
    this.offer($("use-measured"), found.changes, found.good);
  }

  async map() {
    const found = await this.work("/api/margins", {}, $("margins"));
    if (!found) return;
    $("margins").textContent = `Taken as right: ${found.overs} over${found.overs === 1 ? "" : "s"}.\n\n` + found.text;
    $("map-picture").src = "data:image/svg+xml," + encodeURIComponent(found.picture);
    $("map-picture").hidden = false;
    this.offer($("use-map"), found.changes, true);
  }

  // What the station has worked out, or null.
  async work(path, request, told) {
    const begun = await post(path, request).catch(() => ({ why: "the station does not answer" }));
    if (!begun.ok) { tell(begun.why); return null; }
    for (;;) {
      await wait(400);
      const outcome = await get("/api/study").catch(() => ({ failed: "the station does not answer" }));
      if (outcome.failed !== undefined) { told.textContent = outcome.failed; return null; }
      if (outcome.working === undefined) return outcome;
      told.textContent = `working it out, ${(outcome.working * 100).toFixed(0)} %`;
    }
  }

  // One button a setting, and one for all that are `good`; what was used stays in the list without its button.
  offer(list, changes, good) {
    const { used } = this.offers.find((one) => one.list === list);
    used.clear();
    const uses = changes.map(({ key, from, to }) => {
      const button = make("button", `Use ${key} = ${to}`);
      const item = make("li", button, ` it is ${from}`);
      const use = async () => {
        if (button.disabled) return true;
        if (!item.isConnected) return false;  // void meanwhile
        used.add(key);
        if (!await change({ do: "set", key, value: to.replaceAll('"', "") })) { used.delete(key); return false; }
        button.disabled = true;
        item.replaceChildren(button, ` in force, it was ${from}`);
        return true;
      };
      button.addEventListener("click", async () => { await use(); this.changed(); });
      return { item, use };
    });
    list.replaceChildren(...uses.map(({ item }) => item));
    if (!changes.length) list.textContent = "Nothing to change.";
    if (changes.length && !good)
      return list.prepend(make("li", "Not to be trusted as things stand: mend what is told above, and take it again."));
    if (changes.length < 2) return;
    const all = make("button", "Use all");
    all.addEventListener("click", async () => {
      all.disabled = true;
      for (const { use } of uses) if (!await use()) { all.disabled = false; break; }
      this.changed();
    });
    list.prepend(make("li", all, ` the ${changes.length} settings below, one after the other`));
  }
}

function make(name, ...content) {
  const element = document.createElement(name);
  if (name === "button") element.type = "button";
  element.append(...content);
  return element;
}
