// What is asked of the station, with the token that came in the page's address.
export const $ = (id) => document.getElementById(id);
export const token = location.hash.slice(1) || sessionStorage.getItem("token") || "";

if (token) sessionStorage.setItem("token", token);
history.replaceState(null, "", location.pathname);

export async function get(path) {
  const answer = await fetch(path, { headers: { Authorization: "Bearer " + token } });
  if (!answer.ok) throw new Error((await answer.json()).why);
  return answer.json();
}

export async function post(path, request) {
  const answer = await fetch(path, {
    method: "POST",
    headers: { Authorization: "Bearer " + token, "Content-Type": "application/json" },
    body: JSON.stringify(request),
  });
  return answer.json();
}

export async function change(request) {
  try {
    const answer = await post("/api", request);
    tell(answer.ok ? answer.did || "done" : answer.why);
    return answer.ok;
  } catch {
    tell("the station does not answer");
    return false;
  }
}

export const tell = (text) => { $("told").textContent = text; };
