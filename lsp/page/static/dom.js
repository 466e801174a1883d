// Makes elements. All text goes in as text: what a plan says is never markup.

/** Makes an element with properties, and children that are elements or text. */
export function make(tag, props = {}, ...children) {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (name === "on") for (const [event, run] of Object.entries(value)) e.addEventListener(event, run);
    else if (name in e) e[name] = value;
    else e.setAttribute(name, value);
  }
  e.append(...children.filter((c) => c !== null && c !== undefined));
  return e;
}

const namespace = "http://www.w3.org/2000/svg";

/** The same for SVG, whose properties are all attributes. */
export function draw(tag, props = {}, ...children) {
  const e = document.createElementNS(namespace, tag);
  for (const [name, value] of Object.entries(props)) e.setAttribute(name, value);
  e.append(...children);
  return e;
}
