package ide

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

// Lens is a line above a block: figures, or something to do.
type Lens struct {
	Range
	Title string // 216 pixels, 3.6 m, least 11.4 V in full
	Do    Deed   // what a click does; "" for nothing
	About string // the address of the block that it does so about; "" for the plan
}

// Deed is what a lens does.
type Deed string

// What lenses do: go to the next finding, show the figures of the next load case, tell what
// feeds a run, tell the limits of a block or the plan, show the plan in the browser.
const (
	NextFinding Deed = "next"
	NextCase    Deed = "case"
	TellFeeds   Deed = "feeds"
	TellLimits  Deed = "limits"
	ShowPlan    Deed = "view"
)

// LensesFor says what lenses are for.
type LensesFor struct {
	Case    string // the load case of the figures (see HoverAt)
	Figures bool   // of runs and supplies too: the editor shows no hints that say them
}

// Lenses lists the lenses of v.File: what they do, and the figures that no hint says.
func Lenses(v *View, with LensesFor) []Lens {
	var out []Lens
	blocks := v.byNode()
	for i, p := range v.File.Pieces {
		s := spot{piece: p, base: v.File.Offset(i)}
		for _, n := range schema.NodesIn(p) {
			copies := blocks[n]
			if len(copies) == 0 {
				continue
			}
			at := s.file(n.Head)
			do := func(title string, deed Deed, about string) {
				if title != "" {
					out = append(out, Lens{at, title, deed, about})
				}
			}
			switch n.Type {
			case "plan":
				if found, some := v.counted(); some {
					do(found+": next", NextFinding, "")
				} else {
					do(found, "", "")
				}
				if status := v.Status(with.Case); v.strain(with.Case) != "" && len(v.Figures.Cases) > 1 {
					do(status+": other case", NextCase, "")
				} else {
					do(status, "", "")
				}
				do("limits", TellLimits, "")
				do("show in the browser", ShowPlan, "")
			case "run", "supply":
				if with.Figures {
					do(v.briefOf(copies, with.Case), "", "")
				}
				id := schema.HeaderOf(copies[0]).ID()
				limits := v.limited(copies[0])
				if n.Type == "run" {
					do("what feeds it", TellFeeds, id)
					limits = cmp.Or(limits, "limits")
				}
				do(limits, TellLimits, id)
			case "controller", "order", "universes":
				title := v.briefOf(copies, with.Case)
				if l := v.limited(copies[0]); l != "" && title != "" {
					title += ", " + l
				}
				do(title, "", "")
			}
		}
	}
	return out
}

// counted says what was found in the whole plan and what is open, and whether there is any of it.
func (v *View) counted() (text string, some bool) {
	var parts []string
	for _, l := range []struct {
		level lint.Level
		noun  string
	}{{lint.Error, "error"}, {lint.Warning, "warning"}, {lint.Hint, "hint"}} {
		n := 0
		for _, f := range v.Findings {
			if f.Level == l.level {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, quantity.Count(n, l.noun))
		}
	}
	some = len(parts) > 0
	if v.Figures != nil {
		if n := len(lint.UnjudgedIn(v.Plan, v.Figures)); n > 0 {
			parts = append(parts, quantity.Count(n, "network")+" not judged")
		}
	}
	if len(parts) == 0 {
		parts = []string{"nothing found"}
	}
	if n := len(lint.Open(v.Plan)); n > 0 {
		parts, some = append(parts, lint.OpenQuestions(n)), true
	}
	return strings.Join(parts, ", "), some
}

// Status says in one line how large a plan is, and of a load case the least voltage and
// the greatest load: "2 runs, 300 pixels, 5 m, least 11.4 V at run.arch, load 91 % in full".
func (v *View) Status(caseName string) string {
	if v.Figures == nil {
		return ""
	}
	var parts []string
	for _, f := range v.planFacts() {
		if f.name == "runs" {
			parts = append(parts, f.text)
		}
	}
	if text := v.strain(caseName); text != "" {
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// strain says of a load case the least voltage and the greatest load; "" where nothing is fed.
func (v *View) strain(caseName string) string {
	if v.Figures == nil {
		return ""
	}
	c := v.loadCase(caseName)
	if c == nil {
		return ""
	}
	var parts []string
	worst, run := math.Inf(1), ""
	for _, r := range v.Figures.Runs {
		if x, ok := v.runCase(r.Run, c); ok && x.MinVolts < worst {
			worst, run = x.MinVolts, r.ID()
		}
	}
	load := math.Inf(-1)
	for _, s := range v.Plan.Supplies {
		if x, ok := v.supplyCase(s, c); ok && x.Load > load { // a rating that is not known is no load
			load = x.Load
		}
	}
	if run != "" {
		parts = append(parts, fmt.Sprintf("least %s at %s", volts(worst), run))
	}
	if !math.IsInf(load, -1) {
		parts = append(parts, "load "+share(load))
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, ", ") + " in " + c.Name
}
