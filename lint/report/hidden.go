package report

import (
	"bufio"
	"fmt"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

// Hidden is a finding that a plan says not to tell.
type Hidden struct {
	*Finding
	By     Place // the comment that allows it, or its rule's name in a policy; none for a baseline
	Means  lint.Means
	Reason string
	Guard  bool // the rule guards against fire or shock
}

// Hide adds what a plan says not to tell.
func (p *Plan) Hide(plan *schema.Plan, hidden []lint.Hidden) {
	found := make([]lint.Finding, len(hidden))
	for i := range hidden {
		found[i] = hidden[i].Finding
	}
	for i, f := range Resolve(plan, found).Findings {
		p.Hidden = append(p.Hidden, &Hidden{f, locate(plan, hidden[i].By), hidden[i].Means, hidden[i].Reason, hidden[i].Guard})
	}
	sortHidden(p.Hidden)
}

func sortHidden(hidden []*Hidden) {
	gravity := func(h *Hidden) int {
		if h.Guard {
			return int(lint.Error) + 1
		}
		return int(h.Level)
	}
	slices.SortStableFunc(hidden, func(a, b *Hidden) int { return gravity(b) - gravity(a) })
}

// how says by what and why a finding is hidden.
func (h *Hidden) how() string {
	switch h.Means {
	case lint.Baseline:
		return "not told because " + h.Reason
	case lint.Policy:
		return fmt.Sprintf("turned off by policy at %s, because %s", Style{}.where(h.By, h.Plan), h.Reason)
	}
	return fmt.Sprintf("allowed by comment at %s, because %s", Style{}.where(h.By, h.Plan), h.Reason)
}

// mostHidden is how many comments that allow something are told one by one.
const mostHidden = 10

// hidden tells in a few lines what plans say not to tell.
func (s Style) hidden(b *bufio.Writer, r *Run) {
	type group struct {
		*Hidden
		n int
	}
	var comments, off, known []*group
	allowed, before := 0, 0
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			in := &comments
			switch h.Means {
			case lint.Policy:
				in = &off
			case lint.Baseline:
				in = &known
				before++
			default:
				allowed++
			}
			same := slices.IndexFunc(*in, func(g *group) bool {
				return g.Rule == h.Rule && (h.Means != lint.Comment || g.By == h.By)
			})
			if same < 0 {
				*in = append(*in, &group{h, 1})
			} else {
				(*in)[same].n++
			}
		}
	}
	if allowed > 0 {
		fmt.Fprintf(b, "%s allowed by comment:\n", quantity.Count(allowed, "finding"))
	}
	for i, g := range comments {
		if i == mostHidden {
			fmt.Fprintf(b, "  and by %s more\n", quantity.Count(len(comments)-i, "comment"))
			break
		}
		of := g.Subject
		if g.n > 1 {
			of += fmt.Sprintf(" and %d more", g.n-1)
		}
		fmt.Fprintf(b, "  %s: %s of %s, because %s\n", s.where(g.By, g.Plan), g.Rule, terminal.Printable(of), terminal.Printable(g.Reason))
	}
	for _, g := range off {
		fmt.Fprintf(b, "%s turned off by policy:\n  %s: %s, because %s\n", quantity.Count(g.n, "finding"), s.where(g.By, g.Plan), g.Rule, terminal.Printable(g.Reason))
	}
	if before > 0 {
		fmt.Fprintf(b, "%s not told because %s:\n", quantity.Count(before, "finding"), terminal.Printable(known[0].Reason))
	}
	for _, g := range known {
		fmt.Fprintf(b, "  %s: %d\n", g.Rule, g.n)
	}
}

// Scope is what a run without errors and warnings says of itself: what was
// judged, and what no plan tells.
func Scope() string {
	return "Judged in every load case, and over every pattern that the ceilings allow.\n" +
		"No plan tells the mains side and the workmanship: leave the one to a licensed person, and measure the other before the first full power-up.\n"
}
