// The way to the server for the page in a panel: through the extension. It
// stands in for link.js of the page.
/* global acquireVsCodeApi */
const host = acquireVsCodeApi();
const waiting = new Map();
let number = 0;

export function listen(news, state) {
  window.addEventListener("message", ({ data }) => {
    if (data.news) news(data.news);
    if (data.there !== undefined) state(data.there);
    if (data.pattern) {
      waiting.get(data.number)?.(data.pattern);
      waiting.delete(data.number);
    }
  });
  host.postMessage({ ready: true });
}

export function jump(place) {
  host.postMessage({ jump: place });
  return true;
}

export function pattern(id) {
  return new Promise((resolve) => {
    waiting.set(++number, resolve);
    host.postMessage({ pattern: id, number });
  });
}
