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
and what is written beside it wins. A comment that begins with ` + "`# ?`" + ` asks for what
is still to be decided or measured: such are listed where findings are, until
they are taken out because they are answered. One on a line of its own that says
"write NAME = …" is answered once that is written in the block that it stands in or above.

`)
	for _, t := range schema.Language {
		fmt.Fprintf(&b, "- [%s](#%s): %s\n", t.Name, t.Name, t.Doc)
	}
	b.WriteString("- [Copies](#copies)\n- [Functions](#functions)\n- [Places](#places)\n- [Units](#units)\n- [Limits](#limits)\n")
	for _, t := range schema.Language {
		block(&b, t, "##")
	}
	copyPage(&b)
	functions(&b)
	placePage(&b)
	units(&b)
	limits(&b)
	return []byte(b.String()), nil
}

func limits(b *strings.Builder) {
	b.WriteString(`
## Limits

How much is read at most. Text beyond them gets a finding that names the limit,
and nothing is judged that hangs on what is left out. They lie far above what an
installation needs: a file of the greatest size has some 200,000 lines, and a
directory may hold several. Plans of 1,000,000 pixels are worked out.

| what | at most |
| --- | --- |
`)
	for _, l := range schema.SizeLimits {
		fmt.Fprintf(b, "| %s | %d |\n", l.What, l.Most)
	}
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
	if t.Varies != nil {
		facts = append(facts, "It takes what a "+t.Varies.Name+" takes, but times.")
	}
	var holds []string
	for _, n := range t.Blocks {
		if _, top := schema.TypeNamed(n.Name); top && t.Varies == nil {
			holds = append(holds, n.Name)
		}
	}
	if len(holds) > 0 {
		facts = append(facts, "It holds blocks of the kinds "+strings.Join(holds, ", ")+".")
	}
	if len(facts) > 0 {
		b.WriteString("\n" + strings.Join(facts, " ") + "\n")
	}
	if t.Example != "" {
		fmt.Fprintf(b, "\n```hcl\n%s\n```\n", strings.TrimSpace(t.Example))
	}
	if t.Varies != nil {
		return
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
		for i := range t.Attrs {
			if drawn := t.Picture(&t.Attrs[i]); drawn != "" {
				fmt.Fprintf(b, "\n`%s`:\n\n```text%s\n```\n", t.Attrs[i].Name, drawn)
			}
		}
	}
	for _, n := range t.Blocks {
		if _, top := schema.TypeNamed(n.Name); !top {
			block(b, n, heading+"#")
		}
	}
}

// takes says what an attribute takes, with its default, its range and an example.
func takes(a *schema.Attr) string {
	out := []string{a.Takes()}
	if a.Kind == schema.Choice {
		out[0] = options(a.Choices)
	}
	if limits := a.Limits(); limits != "" {
		out = append(out, limits)
	}
	if a.Default != "" {
		out = append(out, "default `"+a.Default+"`")
	}
	if a.Example != "" && len(a.Choices) == 0 && a.Example != a.Default {
		out = append(out, "such as `"+a.Example+"`")
	}
	return strings.Join(out, "; ")
}

func options(os []schema.Option) string {
	var out []string
	for _, o := range os {
		out = append(out, fmt.Sprintf("`%q` (%s)", o.Value, o.Doc))
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

func copyPage(b *strings.Builder) {
	b.WriteString(`
## Copies

What ` + "`times`" + ` makes of a block, and what an assembly makes of its members, has its
number behind its name: ` + "`run.tread-3`, `run.ring-hoop-7`" + `; in rows, or in an assembly in
another one, that of the row or of the outer one first: ` + "`run.bay-ring-hoop-2-7`" + `. In
place of a number may stand what says which is meant. Where a list is asked
for, it may be several; numbers that are left out at the end stand for all.

| behind the name | is |
| --- | --- |
| ` + "`-7`" + ` | that copy |
| ` + "`-11-to-20`" + ` | the copies from one to another, in a list; backwards where the first is greater |
`)
	for _, p := range schema.Picks {
		fmt.Fprintf(b, "| `-%s` | %s |\n", p.Value, p.Doc)
	}
	b.WriteString(`
The copies beside (` + "`-each`, `-next`, `-previous`" + `) are those of the copy that the block
itself is. In an assembly plain names are those of its own members in the same
copy, and ` + "`-next`" + ` behind one is that of the next copy; a member that leads to a copy
that is not there, as the hop behind the last ring, is not made. From outside a
member's name begins with that of its assembly. In lists of runs an assembly
stands for all of its runs, copy by copy: ` + "`assembly.ring`, `assembly.ring-odd`" + `.

A block may be like a copy: ` + "`like = run.tread-3`" + ` lies where that copy lies, and a
shift moves it from there. What is like a block with copies is like its first
one. Copies that are like ` + "`NAME-each`" + ` are each moved once from the copy with the
same number, those that are like one block once more from copy to copy.

What is different in a copy stands in a copy block, and wins there:

` + "```hcl" + `
run "tread" {
  times  = 12
  strip  = strip.stair
  length = "90 cm"
  copy "7" { length = "60 cm" }
  copy "11-to-12" { diffuser = diffuser.wide }
}
` + "```" + `
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
