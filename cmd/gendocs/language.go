package main

import (
	"fmt"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// languagePages makes schema/LANGUAGE.md from the declarations of the language.
func languagePages(string) ([]byte, error) {
	var b strings.Builder
	b.WriteString(generated)
	b.WriteString(`# The plan language

A plan is a directory: all its *.ohm.hcl files together, with one plan block
among them. Files are written in HCL. Values that measure something are text
with a unit; references are written without quotes; ` + "`like = REF`" + ` in any top-level
block takes over everything from a block of the same type or from the catalogue,
and what is written beside it wins.

`)
	for _, t := range schema.Language {
		fmt.Fprintf(&b, "- [%s](#%s): %s\n", t.Name, t.Name, t.Doc)
	}
	b.WriteString("- [Functions](#functions)\n- [Places](#places)\n- [Units](#units)\n")
	for _, t := range schema.Language {
		block(&b, t, "##")
	}
	functions(&b)
	placePage(&b)
	units(&b)
	return []byte(b.String()), nil
}

func block(b *strings.Builder, t *schema.BlockType, heading string) {
	fmt.Fprintf(b, "\n%s %s\n\n%s\n", heading, t.Name, t.Doc)
	if t.Detail != "" {
		b.WriteString(t.Detail + "\n")
	}
	var facts []string
	if t.Label != "" {
		facts = append(facts, "It has a "+t.Label+".")
	}
	if t.Once {
		facts = append(facts, "There is at most one.")
	}
	if t.Part {
		facts = append(facts, "It may stand in a stock directory.")
	}
	if len(facts) > 0 {
		b.WriteString("\n" + strings.Join(facts, " ") + "\n")
	}
	if t.Example != "" {
		fmt.Fprintf(b, "\n```hcl\n%s\n```\n", strings.TrimSpace(t.Example))
	}
	if len(t.Attrs) > 0 {
		b.WriteString("\n| attribute | takes | says |\n| --- | --- | --- |\n")
		for i := range t.Attrs {
			a := &t.Attrs[i]
			name := "`" + a.Name + "`"
			if a.Name == "*" {
				name = "*any name*"
			}
			if a.Required {
				name += ", required"
			}
			fmt.Fprintf(b, "| %s | %s | %s |\n", name, cell(takes(a)), cell(strings.TrimSpace(a.Doc+" "+a.Detail)))
		}
	}
	for _, n := range t.Blocks {
		block(b, n, heading+"#")
	}
}

// takes says what an attribute takes, with its default, its range and an example.
func takes(a *schema.Attr) string {
	out := []string{kindOf(a)}
	if r := rangeOf(a); r != "" {
		out = append(out, r)
	}
	if a.Default != "" {
		out = append(out, "default `"+a.Default+"`")
	}
	if a.Example != "" && len(a.Choices) == 0 && a.Example != a.Default {
		out = append(out, "such as `"+a.Example+"`")
	}
	return strings.Join(out, "; ")
}

func kindOf(a *schema.Attr) string {
	switch a.Kind {
	case schema.Text:
		return "text"
	case schema.Choice:
		var cs []string
		for _, o := range a.Choices {
			cs = append(cs, fmt.Sprintf("`%q` (%s)", o.Value, o.Doc))
		}
		return strings.Join(cs, ", ")
	case schema.Integer:
		return "a whole number"
	case schema.Boolean:
		return "`true` or `false`"
	case schema.Measure:
		return a.Dim.String()
	case schema.Measures:
		return "a list, each " + a.Dim.String()
	case schema.LetterMeasure:
		return a.Dim.String() + ", or a map of them by channel letter"
	case schema.LetterShare:
		return "a map of shares by channel letter"
	case schema.Coordinates:
		return "a place: right and up"
	case schema.Polyline:
		return "a list of places"
	case schema.Reference:
		return "a reference to a " + strings.Join(a.Types, " or ")
	case schema.References:
		return "a list of references to a " + strings.Join(a.Types, " or ")
	case schema.OrderedRuns:
		return "a list of runs"
	case schema.Place:
		var ps []string
		for _, p := range a.Places {
			ps = append(ps, "`"+p.Example()+"`")
		}
		return "a place: " + strings.Join(ps, ", ")
	case schema.Letters:
		return "channel letters"
	case schema.Colour:
		return "a colour"
	case schema.RuleNames:
		return "a list of rule names"
	case schema.Directories:
		return "a list of directories"
	case schema.Date:
		return "a day"
	case schema.Enclosure:
		return "a protection class"
	case schema.Values:
		return "any value"
	}
	return ""
}

// rangeOf is the range that an attribute's value lies in.
func rangeOf(a *schema.Attr) string {
	show := func(si float64) string { return quantity.Show(a.Dim, si) }
	switch a.Kind {
	case schema.Integer:
		show = func(n float64) string { return quantity.Number(n, 12) }
	case schema.Measure, schema.Measures, schema.LetterMeasure:
	default:
		return ""
	}
	var out []string
	switch {
	case a.Dim == quantity.Temperature && a.Least == 0: // the scale begins at absolute zero
	case a.Above && a.Least == 0:
		out = append(out, "above 0")
	case a.Above:
		out = append(out, "above "+show(a.Least))
	case a.Least != 0:
		out = append(out, "at least "+show(a.Least))
	}
	if a.Most != 0 {
		out = append(out, "at most "+show(a.Most))
	}
	return strings.Join(out, ", ")
}

// cell makes a text fit into a table.
func cell(s string) string { return strings.ReplaceAll(strings.ReplaceAll(s, "\n", " "), "|", "\\|") }

func functions(b *strings.Builder) {
	b.WriteString("\n## Functions\n\n| function | does | example |\n| --- | --- | --- |\n")
	for _, f := range schema.Functions {
		var params []string
		for _, p := range f.Params {
			params = append(params, p.Name)
		}
		more := ""
		if f.More {
			more = ", …"
		}
		example := ""
		if f.Detail != "" {
			example = "`" + f.Detail + "`"
		}
		fmt.Fprintf(b, "| `%s(%s%s)` | %s | %s |\n", f.Name, strings.Join(params, ", "), more, cell(f.Doc), cell(example))
	}
}

func placePage(b *strings.Builder) {
	b.WriteString(`
## Places

Leads, signals and readings go from place to place. A place on a run moves to
the nearest pad.

| place | is |
| --- | --- |
| ` + "`supply.NAME.out`, `supply.NAME.out[2]`" + ` | an output of a supply, counted from 1 |
| ` + "`joint.NAME`" + ` | a joint |
| ` + "`controller.NAME.power`" + ` | where a controller takes its power |
| ` + "`controller.NAME.port.NAME`" + ` | a data output |
| ` + "`run.NAME.start`, `run.NAME.end`" + ` | the ends of a run |
| ` + "`run.NAME[\"1.5 m\"]`" + ` | a distance from the start of a run |
| ` + "`run.NAME[90]`" + ` | the pad before a pixel, counted from 0 |
`)
}

func units(b *strings.Builder) {
	b.WriteString("\n## Units\n\n| measures | units |\n| --- | --- |\n")
	for d := quantity.None + 1; d <= quantity.Money; d++ {
		var us []string
		for _, u := range quantity.Units(d) {
			us = append(us, "`"+u.Symbol+"`")
		}
		more := ""
		if d == quantity.Money {
			more = ", and every other ISO 4217 code"
		}
		fmt.Fprintf(b, "| %s | %s%s |\n", d, strings.Join(us, ", "), more)
	}
}
