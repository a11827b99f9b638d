// door.js - talks to the server. The secret of this start stands in the address behind #, which no browser sends on.
const token = location.hash.slice(1);

/** Thrown when the server refuses: its faults, and the HTTP status. */
export class Refusal extends Error {
  constructor(status, faults) {
    super(faults.length ? faults.map(words).join(" ") : status === 403 ? "this page belongs to an earlier start of the program: open the address it printed last"
      : `the server answers ${status}`);
    this.status = status;
    this.faults = faults;
  }
  get code() { return this.faults.length ? this.faults[0].code : ""; }
}

export const words = (fault) => (fault.cure ? `${fault.wrong}; ${fault.cure}` : fault.wrong);

/** Asks for `path` with query `params`; a body makes it a POST. Answers JSON, or a Blob where `blob`. `last`: sent even while the page closes. */
export async function ask(path, params = {}, body = null, { blob = false, signal = undefined, last = false } = {}) {
  const query = new URLSearchParams(params).toString();
  const headers = { "X-Page-Token": token };
  if (body !== null) headers["Content-Type"] = "application/json";
  const answer = await fetch(`/api/${path}${query ? "?" + query : ""}`, { method: body === null ? "GET" : "POST", headers, body, signal, keepalive: last });
  if (blob && answer.ok) return answer.blob();
  const type = answer.headers.get("Content-Type") || "";
  const data = type.startsWith("application/json") ? await answer.json() : {};
  if (!answer.ok) throw new Refusal(answer.status, data.faults || []);
  return data;
}

/** The text of a sample that is built in. */
export async function sample(id) {
  const answer = await fetch(`/samples/${encodeURIComponent(id)}.json`);
  if (!answer.ok) throw new Refusal(answer.status, []);
  return answer.text();
}
