// door.js - talks to the server. The secret of this start stands in the address behind #, which no browser sends on.
const token = location.hash.slice(1);

/** Thrown when the server refuses: its faults, and the HTTP status. */
export class Refusal extends Error {
  constructor(status, faults) {
    super(faults.length ? `${faults[0].wrong}${faults[0].cure ? "; " + faults[0].cure : ""}` : `the server answers ${status}`);
    this.status = status;
    this.faults = faults;
  }
}

/** Asks for `path` with query `params`; a body makes it a POST. Answers JSON, or a Blob where `blob`. */
export async function ask(path, params = {}, body = null, { blob = false, signal = undefined } = {}) {
  const query = new URLSearchParams(params).toString();
  const headers = { "X-Page-Token": token };
  if (body !== null) headers["Content-Type"] = "application/json";
  const answer = await fetch(`/api/${path}${query ? "?" + query : ""}`, { method: body === null ? "GET" : "POST", headers, body, signal });
  if (blob && answer.ok) return answer.blob();
  const type = answer.headers.get("Content-Type") || "";
  const data = type.startsWith("application/json") ? await answer.json() : {};
  if (!answer.ok) throw new Refusal(answer.status, data.faults || []);
  return data;
}
