// The way to the program behind the page: what changed comes as server-sent
// events, questions go as requests. Addresses are below that of the page, which
// holds the secret.

/** Calls news with each set of changed pieces, and state with whether the program is there. */
export function listen(news, state) {
  const source = new EventSource("events");
  source.onopen = () => state(true);
  source.onerror = () => state(false); // the browser tries again by itself
  source.onmessage = (e) => news(JSON.parse(e.data));
}

/** Has the editor show a place; false where it cannot. */
export async function jump(place) {
  try {
    return (await fetch("jump", { method: "POST", body: JSON.stringify(place) })).ok;
  } catch {
    return false;
  }
}

/** Asks for the worst pattern of a lead or run: by run, the shares of its pixels' light and their voltages. */
export async function pattern(id) {
  try {
    const answer = await fetch("pattern?of=" + encodeURIComponent(id));
    return answer.ok ? await answer.json() : {};
  } catch {
    return {};
  }
}
