package ide

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Hints says which inlay hints to show.
type Hints struct {
	Pixels  bool   // how many pixels a run has
	Metres  bool   // how long it is
	Amps    bool   // the current of runs, leads and supplies
	Drop    bool   // what a lead loses, and the least voltage of a run
	Load    bool   // how much of its rating a supply gives
	Lengths bool   // the length of a lead that is estimated
	Near    bool   // of currents and voltages only those near a limit
	Moved   bool   // at the end of the last edit, what it moved
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
			place := v.lineEnd(s.base + n.Head.End) // nobody edits there
			if len(copies) == 0 || place < at.Start || place > at.End {
				continue
			}
			b, _ := v.speaks(copies, h.Case)
			if label := v.hint(b, h); label != "" {
				out = append(out, Inlay{Offset: place, Label: label, Tip: v.tip(copies, h.Case)})
			}
			if l, ok := b.(*schema.Lead); ok && h.Lengths {
				if x, ok := v.estimate(l, n, place); ok {
					out = append(out, x)
				}
			}
		}
	}
	if place := v.lineEnd(v.Edited); h.Moved && v.Saved != nil && place >= at.Start && place <= at.End {
		if text := v.moved(h.Case); text != "" {
			out = append(out, Inlay{Offset: place, Label: text, Tip: "What moved since the plan was saved, in the load case " + v.caseName(v.loadCase(h.Case)) + "."})
		}
	}
	return out
}

// lineEnd is the end of the line that an offset of v.File lies in.
func (v *View) lineEnd(offset int) int {
	t := v.File.Text
	line := t.OffsetPosition(offset, source.UTF8).Line
	return t.LineStart(line) + len(bytes.TrimRight(t.Line(line), "\r\n"))
}

func (v *View) caseName(c *figures.Case) string {
	if c == nil {
		return schema.Full
	}
	return c.Name
}

func (v *View) tip(copies []schema.Block, caseName string) string {
	var p page
	p.copies(v, copies, caseName)
	return p.String()
}

// hint is the text behind the head of a block.
func (v *View) hint(b schema.Block, h Hints) string {
	if before, was, ok := v.judgedBefore(b); ok {
		if text := before.hint(was, h); text != "" {
			return old + text
		}
		return ""
	}
	c := v.loadCase(h.Case)
	if _, plan := b.(*schema.PlanHead); h.Near && !plan && !v.near(b, c) {
		h.Amps, h.Drop, h.Load = false, false, false
	}
	var parts []string
	say := func(on bool, format string, args ...any) {
		if on {
			parts = append(parts, fmt.Sprintf(format, args...))
		}
	}
	switch b := b.(type) {
	case *schema.PlanHead: // so that no other hint has to
		say(c != nil && len(v.Plan.Leads) > 0 && (h.Amps || h.Drop || h.Load), "figures of case %s", v.caseName(c))
	case *schema.Run:
		f, ok := v.Figures.Run(b)
		if !ok || !f.OK {
			return ""
		}
		say(h.Pixels, "%s", quantity.Count(f.Pixels, "pixel"))
		say(h.Metres && !b.Length.Set, "%s", v.metres(f.Length))
		if x, ok := v.runCase(b, c); ok {
			say(h.Amps, "%s", amps(x.Amps))
			say(h.Drop, "least %s", volts(x.MinVolts))
		}
	case *schema.Lead:
		if x, ok := v.leadCase(b, c); ok {
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

// nearFrom is from which part of what is allowed on a figure is near its limit.
const nearFrom = 0.8

// near reports whether a run's least voltage, a lead's current or a supply's load is near
// or beyond what is allowed, or not known.
func (v *View) near(b schema.Block, c *figures.Case) bool {
	switch b := b.(type) {
	case *schema.Run:
		if x, ok := v.runCase(b, c); ok {
			f, _ := v.Figures.Run(b)
			nominal := f.Volts
			return !(nominal-x.MinVolts < nearFrom*nominal*v.Plan.Limits().Drop)
		}
	case *schema.Lead:
		if x, ok := v.leadCase(b, c); ok {
			f, _ := v.Figures.Lead(b)
			return !(math.Max(math.Abs(x.Amps), math.Abs(x.Back)) < nearFrom*f.Ampacity)
		}
	case *schema.Supply:
		if x, ok := v.supplyCase(b, c); ok {
			return !(x.Load < nearFrom*v.Plan.Limits().Load)
		}
	}
	return true
}

// estimate shows the length of a lead that does not say its own.
func (v *View) estimate(l *schema.Lead, n *schema.Node, place int) (Inlay, bool) {
	f, ok := v.Figures.Lead(l)
	if !ok || !f.OK || !f.Estimated || n.Inside.End <= n.Inside.Start {
		return Inlay{}, false
	}
	length := quantity.Number(f.Length, 3) + " m"
	insert, ok := v.edits([]schema.Edit{schema.InsertAttr(n, "length", strconv.Quote(length))})
	if !ok || l.Copy > 0 { // copies may have a length each
		return Inlay{}, false
	}
	return Inlay{
		Offset: place, Label: "about " + length + " long",
		Tip:    "Estimated from the places of its ends plus the policy's slack.",
		Insert: insert,
	}, true
}
