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
    this.busy = false;
    for (const button of document.querySelectorAll("[data-take]")) {
      button.addEventListener("click", () => this.take(button));
    }
    $("measure").addEventListener("click", () => this.measure());
    $("map").addEventListener("click", () => this.map());
  }

  // A station without receiver audio has no such take.
  hears(receiver) {
    this.receiver = receiver;
    document.querySelector("[data-take=receiver]").closest("li").hidden = !receiver;
    this.allow();
  }

  allow() {
    const { room, receiver, voice } = this.takes;
    $("measure").disabled = !(room && voice && (receiver || !this.receiver));
  }

  // Nothing may key while the operator speaks for a measurement.
  async take(button) {
    if (this.busy || !token) return;
    if (!await change({ do: "mode", mode: "safe" })) return;
    this.busy = true;
    const name = button.dataset.take;
    const told = $("took-" + name);
    const from = this.now();
    const seconds = Number(button.dataset.seconds);
    for (let left = seconds; left > 0 && from !== null; --left) {
      told.textContent = `listening, ${left} s to go`;
      await wait(1000);
    }
    const to = this.now();
    this.busy = false;
    if (from === null || to === null || to - from < seconds - 1) {
      told.textContent = "no sound came: take it again";
      return;
    }
    this.takes[name] = [from, to];
    told.textContent = `taken, ${(to - from).toFixed(0)} s; press again to repeat`;
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
    this.offer($("use-measured"), found.changes);
  }

  async map() {
    const found = await this.work("/api/margins", {}, $("margins"));
    if (!found) return;
    $("margins").textContent = `Taken as right: ${found.overs} over${found.overs === 1 ? "" : "s"}.\n\n` + found.text;
    $("map-picture").src = "data:image/svg+xml," + encodeURIComponent(found.picture);
    $("map-picture").hidden = false;
    this.offer($("use-map"), found.changes);
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

  offer(list, changes) {
    list.replaceChildren(...changes.map(({ key, from, to }) => {
      const item = document.createElement("li");
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = `Use ${key} = ${to}`;
      button.addEventListener("click", async () => {
        if (!await change({ do: "set", key, value: to.replaceAll('"', "") })) return;
        button.disabled = true;
        this.changed();
      });
      item.append(button, ` it is ${from}`);
      return item;
    }));
    if (!changes.length) list.textContent = "Nothing to change.";
  }
}
