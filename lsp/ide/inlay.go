package ide

import (
	"fmt"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// Hints says which inlay hints to show.
type Hints struct {
	Pixels  bool   // how many pixels a run has
	Metres  bool   // how long it is
	Amps    bool   // the current of runs, leads and supplies
	Drop    bool   // what a lead loses, and the least voltage of a run
	Load    bool   // how much of its rating a supply gives
	Lengths bool   // the length of a lead that is estimated
	Case    string // the load case of the figures (see HoverAt)
}

// Inlay is a text shown within the code, at an offset of v.File.
type Inlay struct {
	Offset int
	Label  string
	Tip    string // Markdown
	// Insert is what makes the hint part of the plan; nil where nothing does.
	Insert []TextEdit
}

// Inlays lists the hints for a range of v.File.
func Inlays(v *View, at Range, h Hints) []Inlay {
	if v.Figures == nil {
		return nil
	}
	var out []Inlay
	blocks := v.byNode()
	for i, p := range v.File.Pieces {
		s := spot{piece: p, base: v.File.Offset(i)}
		if s.base > at.End || s.base+len(p.Bytes()) < at.Start {
			continue
		}
		for _, n := range schema.NodesIn(p) {
			copies := blocks[n]
			place := s.base + n.Head.End
			if len(copies) == 0 || place < at.Start || place > at.End {
				continue
			}
			b, _ := v.speaks(copies, h.Case)
			if label := v.hint(b, h); label != "" {
				out = append(out, Inlay{Offset: place, Label: label, Tip: v.tip(copies, h.Case)})
			}
			if l, ok := b.(*schema.Lead); ok && h.Lengths {
				if x, ok := v.estimate(l, n); ok {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

func (v *View) tip(copies []schema.Block, caseName string) string {
	var p page
	p.copies(v, copies, caseName)
	return p.String()
}

// hint is the text behind the head of a block.
func (v *View) hint(b schema.Block, h Hints) string {
	c := v.loadCase(h.Case)
	var parts []string
	say := func(on bool, format string, args ...any) {
		if on {
			parts = append(parts, fmt.Sprintf(format, args...))
		}
	}
	switch b := b.(type) {
	case *schema.Run:
		i := v.runIndex(b)
		if i < 0 || !v.Figures.Runs[i].OK {
			return ""
		}
		f := v.Figures.Runs[i]
		say(h.Pixels, "%s", quantity.Count(f.Pixels, "pixel"))
		say(h.Metres && !b.Length.Set, "%s", v.metres(f.Length))
		if x, ok := v.runCase(i, c); ok {
			say(h.Amps, "%s", amps(x.Amps))
			say(h.Drop, "least %s", volts(x.MinVolts))
		}
	case *schema.Lead:
		if x, ok := v.leadCase(v.leadIndex(b), c); ok {
			say(h.Amps, "%s", amps(x.Amps))
			say(h.Drop, "loses %s", volts(x.Drop))
		}
	case *schema.Supply:
		if x, ok := v.supplyCase(b, c); ok {
			say(h.Amps, "%s", amps(x.Amps))
			say(h.Load, "%s", ofRating(x.Load))
		}
	}
	return strings.Join(parts, ", ")
}

// estimate shows the length of a lead that does not say its own.
func (v *View) estimate(l *schema.Lead, n *schema.Node) (Inlay, bool) {
	i := v.leadIndex(l)
	if i < 0 || !v.Figures.Leads[i].OK || !v.Figures.Leads[i].Estimated || n.Inside.End <= n.Inside.Start {
		return Inlay{}, false
	}
	length := quantity.Number(v.Figures.Leads[i].Length, 3) + " m"
	edit := schema.InsertAttr(n, "length", strconv.Quote(length))
	place, ok := v.Locate(n.Head)
	insert, ok2 := v.Locate(edit.At)
	if !ok || !ok2 || l.Copy > 0 { // copies may have a length each
		return Inlay{}, false
	}
	return Inlay{
		Offset: place.End, Label: "about " + length + " long",
		Tip:    "Estimated from the places of its ends plus the policy's slack.",
		Insert: []TextEdit{{insert, edit.New}},
	}, true
}
