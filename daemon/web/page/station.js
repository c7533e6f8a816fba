// What is asked of the station, with the token that came in the page's address.
export const $ = (id) => document.getElementById(id);
export const token = location.hash.slice(1) || sessionStorage.getItem("token") || "";

if (token) sessionStorage.setItem("token", token);
history.replaceState(null, "", location.pathname);

// A station that stands still takes the connection all the same: nobody waits for it for ever.
const patience = () => AbortSignal.timeout(3000);

export async function get(path) {
  const answer = await fetch(path, { headers: { Authorization: "Bearer " + token }, signal: patience() });
  if (!answer.ok) throw new Error((await answer.json()).why);
  return answer.json();
}

export async function post(path, request) {
  const answer = await fetch(path, {
    method: "POST",
    headers: { Authorization: "Bearer " + token, "Content-Type": "application/json" },
    body: JSON.stringify(request),
    signal: patience(),
  });
  return answer.json();
}

export async function change(request) {
  try {
    const answer = await post("/api", request);
    tell(answer.ok ? answer.did || "done" : answer.why);
    return answer.ok;
  } catch {
    const moves = request.do === "mode" && request.mode !== "armed";
    tell("the station does not answer" + (moves ? "; whether the key is open is not known: look at the transmitter" : ""));
    return false;
  }
}

let toldAt = 0;

export const tell = (text) => {
  toldAt = performance.now();
  $("told").textContent = text;
};

// Once the mode or the key has changed again, by whatever, what was told of them holds no longer. The change that was told
// itself shows within half a second.
export const untell = () => { if (performance.now() - toldAt > 500) $("told").textContent = "\u00a0"; };
