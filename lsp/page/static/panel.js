// What stands beside the picture: findings, what is selected, the orders, and
// lists of everything, so that nothing needs a mouse.
import { make } from "./dom.js";
import { profile } from "./profile.js";
import { amps, percent, volts, words } from "./words.js";

export class Panel {
  #open = new Map(); // which sections are

  constructor(root, model, act) {
    Object.assign(this, { root, model, act });
    this.parts = Object.fromEntries(
      ["findings", "selected", "orders", "runs", "leads", "things"].map((name) => [name, make("section", { className: name })]),
    );
    root.append(...Object.values(this.parts));
  }

  #section(name, title, open, ...children) {
    const was = this.#open.get(name) ?? open;
    const details = make("details", { open: was }, make("summary", {}, title), ...children);
    details.addEventListener("toggle", () => this.#open.set(name, details.open));
    this.#put(name, details);
  }

  /** Replaces a section, and keeps the focus where it was. */
  #put(name, ...children) {
    const part = this.parts[name];
    const key = part.contains(document.activeElement) ? document.activeElement.dataset.key : undefined;
    part.replaceChildren(...children);
    if (key !== undefined) part.querySelector(`[data-key="${CSS.escape(key)}"]`)?.focus({ preventScroll: true });
  }

  #button(id, className, ...children) {
    const e = make("button", { type: "button", className, on: { click: () => this.act.select(id), dblclick: () => this.act.jump(id) } }, ...children);
    e.dataset.key = id;
    if (id === this.act.chosen()) e.setAttribute("aria-pressed", "true");
    return e;
  }

  #place(at) {
    if (!at) return null;
    const text = words.place(at);
    if (!this.model.head.jumps) return make("span", { className: "place", title: words.whole_place(at), dir: "ltr" }, text);
    const e = make("button", { type: "button", className: "place", title: `${words.jump}: ${words.whole_place(at)}`, on: { click: () => this.act.goTo(at) } }, text);
    e.dataset.key = "to " + text;
    return e;
  }

  findings() {
    const all = this.model.get("findings");
    if (!all) return this.#put("findings", make("p", { className: "quiet" }, words.judging));
    const list = make("ul", {}, ...all.map((f, i) => {
      const id = f.subject || "plan";
      const e = this.#button(id, "finding " + f.level,
        make("span", { className: "mark", title: words.levels[f.level], "aria-label": words.levels[f.level] }, words.marks[f.level]),
        make("span", { className: "text", dir: "auto" }, f.message));
      e.dataset.key = `finding ${i}`;
      e.removeAttribute("aria-pressed");
      return make("li", {}, e, make("p", { className: "about" }, make("span", {}, f.rule), this.#place(f.place)));
    }));
    this.#section("findings", words.findings(all.length), true, all.length > 0 ? list : make("p", { className: "quiet" }, words.all_clear(this.model.get("hidden") ?? {})));
  }

  selected() {
    const id = this.act.chosen();
    const m = this.model;
    const kind = ["run", "lead", "thing"].find((k) => m.get(k, id));
    const near = (m.get("findings") ?? []).filter((f) => f.subject === id);
    if (!kind && near.length === 0) return this.#put("selected", make("p", { className: "quiet" }, words.none_selected));
    const facts = kind === "run" ? this.#run(id) : kind === "lead" ? this.#lead(id) : kind === "thing" ? this.#thing(id) : [];
    const worst = kind === "run" || kind === "lead"
      ? make("button", { type: "button", on: { click: () => this.act.worst(id) } }, m.pattern?.of === id ? words.light_case : words.light_worst)
      : null;
    if (worst) worst.dataset.key = "worst";
    this.#put("selected", make("div", { className: "card" },
      make("h2", {}, make("span", { dir: "auto" }, id), this.#place(m.get("places")?.[id])),
      ...near.map((f) => make("p", { className: "near " + f.level }, make("span", { className: "mark" }, words.marks[f.level]), f.message)),
      kind === "run" ? profile(m, id, (k) => this.act.look(id, k)) : null,
      make("dl", {}, ...facts.filter((f) => f[1] !== null && f[1] !== undefined && f[1] !== "").flatMap(([name, value]) => [make("dt", {}, name), make("dd", { dir: "auto" }, value)])),
      worst));
  }

  #run(id) {
    const [r, p, v] = [this.model.get("run", id), this.model.profile(id), this.model.get("volts", id)];
    const f = words.facts;
    return [
      [f.length, `${r.length}, ${words.pixels(r.pixels)}`],
      [f.strip, r.strip],
      [f.current, p && amps(p.amps)],
      [f.least, p && f.at(volts(p.min), p.minPixel) + (r.need > 0 && p.min < r.need * 1000 - 0.5 ? `, ${words.short}` : "")],
      [f.worst, v?.worst && f.at(volts(v.worst.value), v.worst.pixel)],
      [f.need, r.need > 0 ? volts(r.need * 1000) : null],
      [f.port, r.port && `${r.port}, ${f.first(r.first)}`],
    ];
  }

  #lead(id) {
    const [l, w] = [this.model.get("lead", id), this.model.get("flow", id)];
    const c = w?.cases[this.model.caseIndex];
    const f = words.facts;
    return [
      [f.from, l.from],
      [f.to, l.to],
      [f.wire, l.wire],
      [f.length, l.estimated ? `${l.length}, ${f.estimated}` : l.length],
      [f.fuse, l.fuse ?? f.no_fuse],
      [f.current, c && amps(c[0])],
      [f.loses, c && volts(c[1])],
      [f.worst, w?.worst && amps(w.worst.value)],
      [f.ampacity, w?.ampacity > 0 ? amps(w.ampacity) : null],
    ];
  }

  #thing(id) {
    const v = this.model.get("level", id);
    const at = v?.cases[this.model.caseIndex];
    const load = v?.loads?.[this.model.caseIndex];
    const f = words.facts;
    return [
      [f.voltage, at === null || at === undefined ? null : volts(at)],
      [f.load, load === null || load === undefined ? null : f.rating(percent(load))],
    ];
  }

  orders() {
    const m = this.model;
    const ids = m.head.orders;
    if (ids.length === 0) return this.#section("orders", words.orders, false, make("p", { className: "quiet" }, words.no_orders));
    const dot = this.act.dot;
    const choose = make("select", { "aria-label": words.orders, on: { change: (e) => this.act.follow(e.target.value) } },
      ...ids.map((id) => make("option", { value: id, selected: id === dot.order },
        `${id} (${words.order_kind(m.get("order", id)?.port)}, ${words.pixels(m.get("order", id)?.pixels ?? 0)})`)));
    choose.dataset.key = "order";
    const button = (key, text, title, run) => {
      const e = make("button", { type: "button", title, "aria-label": title, on: { click: run } }, text);
      e.dataset.key = key;
      return e;
    };
    const speed = make("input", { type: "range", min: "0", max: "10", step: "0.5", title: words.speed, "aria-label": words.speed, on: { input: (e) => this.act.speed(2 ** Number(e.target.value)) } });
    speed.value = String(Math.log2(dot.speed));
    speed.dataset.key = "speed";
    this.where = make("p", { className: "where" });
    this.#section("orders", words.orders, true,
      choose,
      make("div", { className: "player" },
        button("back", "◂", words.step_back, () => dot.step(-1)),
        button("play", dot.running ? "❚❚" : "▶", dot.running ? words.pause : words.play, () => dot.toggle()),
        button("on", "▸", words.step_on, () => dot.step(1)),
        make("label", { className: "speed" }, words.speed, speed)),
      this.where);
    this.moved();
  }

  /** Says where the dot is. */
  moved() {
    const { dot } = this.act;
    if (!this.where || dot.pixels.length === 0) return;
    const n = Math.floor(dot.at);
    const { run, pixel } = this.model.owner(dot.pixels[n]);
    this.where.textContent = words.at_pixel(n, dot.pixels.length, run.id, pixel);
  }

  lists() {
    const m = this.model;
    const least = (id) => m.profile(id)?.min ?? null;
    this.#list("runs", words.runs(m.head.runs.length), m.head.runs, (id) => words.run_line(m.get("run", id), least(id)));
    this.#list("leads", words.leads(m.head.leads.length), m.head.leads, (id) => {
      const c = m.get("flow", id)?.cases[m.caseIndex];
      return c ? words.lead_line(c[0], c[1]) : "";
    });
    this.#list("things", words.things, m.head.things, (id) => {
      const v = m.get("level", id)?.cases[m.caseIndex];
      return v === null || v === undefined ? "" : volts(v);
    });
  }

  #list(name, title, ids, say) {
    const items = ids.filter((id) => m_has(this.model, id)).map((id) =>
      make("li", {}, this.#button(id, "item", make("span", { dir: "auto" }, id), make("span", { className: "say" }, say(id)))));
    this.#section(name, title, false, make("ul", {}, ...items));
  }
}

const m_has = (model, id) => ["run", "lead", "thing"].some((k) => model.get(k, id));
