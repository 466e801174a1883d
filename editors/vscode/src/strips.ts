// Reads what `ohmstead catalog strip` prints. Knows nothing of the editor.

/** A strip of the catalogue, as far as somebody chooses by it. */
export interface Strip {
  name: string;
  volts: string;
  chip: string;
  density: string;
}

export function stripsOf(catalogue: string): Strip[] {
  return [...catalogue.matchAll(/^strip "([^"]+)" \{\n([^]*?)^\}/gm)].map(([, name, body]) => {
    const said = (attribute: string) => new RegExp(`^ +${attribute} += "([^"]*)"`, "m").exec(body)?.[1] ?? "";
    return { name, volts: said("voltage"), chip: said("chip"), density: said("density") };
  });
}
