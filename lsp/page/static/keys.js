// The keyboard: everything that the mouse can do. The list for people stands in
// words.js.

export function bindKeys(stage, act) {
  const plain = {
    "+": () => act.zoom(1.3),
    "=": () => act.zoom(1.3),
    "-": () => act.zoom(1 / 1.3),
    0: act.fit,
    "[": () => act.run(-1),
    "]": () => act.run(1),
    c: act.nextCase,
    w: () => act.worst(act.chosen()),
    o: act.nextOrder,
    f: act.toFindings,
    " ": () => act.dot.toggle(),
    ",": () => act.dot.step(-1),
    ".": () => act.dot.step(1),
    "<": () => act.faster(0.5),
    ">": () => act.faster(2),
    Escape: act.escape,
    "?": act.keys,
  };
  const onStage = {
    ArrowLeft: () => act.move(60, 0),
    ArrowRight: () => act.move(-60, 0),
    ArrowUp: () => act.move(0, 60),
    ArrowDown: () => act.move(0, -60),
    Enter: () => act.jump(act.chosen()),
  };
  document.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey || document.querySelector("dialog[open]")) return;
    const at = e.target;
    const writes = at.matches("input, select");
    const presses = at.matches("button, summary, input");
    const key = e.key.length === 1 ? e.key.toLowerCase() : e.key;
    let run = plain[key];
    if (onStage[key] && (at === stage || at === document.body)) run = onStage[key];
    if (!run || (writes && key !== "Escape") || (presses && key === " ")) return;
    e.preventDefault();
    run();
  });
}
