package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var DataUnconnected = &lint.Rule{
	Name:  "data-unconnected",
	Title: "No data reaches a run",
	Level: lint.Error,
	Why: `An addressable pixel without data stays dark, whatever power it has.
A run needs a signal from a port, or from the end of a run that itself gets data.
A port that drives nothing is a hint.
A plan with neither controllers nor signals says nothing of data and is not judged.`,
	Do: `Add a signal to the start of the run: from a port of its own, or from the end of the run before it in the chain.
Of a chain that hangs in the air only the first run is reported.`,
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(shelf, `signal "low" {
  from   = run.top.end
  to     = run.low.start
  wire   = wire.data
  length = "30 cm"
}

`, "")
	},
	Good:  func() string { return shelf },
	Check: checkDataUnconnected,
}

func checkDataUnconnected(p *lint.Pass) {
	if !p.Figures.Complete || len(p.Plan.Controllers)+len(p.Plan.Signals) == 0 {
		return
	}
	n := readSignals(p.Plan)
	free := n.freePorts(p.Plan)
	for _, port := range free {
		p.Report(lint.Finding{
			Subject: port.Controller.ID(), At: port.Head(), Level: lint.Hint,
			Message: fmt.Sprintf("%s: no signal leaves it; remove it or lead it to a run", port.ID()),
		})
	}
	last, chained := lastOfChain(p)
	for _, r := range p.Plan.Runs {
		if n.fed[r] || n.into[r] != nil {
			continue
		}
		f := lint.Finding{Subject: r.ID(), At: r.Head(), Message: r.ID() + ": no data reaches it"}
		if behind := n.behind(r); behind > 0 {
			f.Message += fmt.Sprintf(", nor the %s behind it", count(behind, "run", "runs"))
		}
		from := "a port, or from the end of the run before it,"
		switch {
		case len(free) > 0:
			from, free = free[0].ID(), free[1:]
			f.Fixes = addSignal(p.Plan, from, r)
		case chained:
			from, chained = last.DataOut(), false
			f.Fixes = addSignal(p.Plan, from, r)
		}
		f.Message += fmt.Sprintf("; add a signal from %s to %s", from, r.DataIn())
		p.Report(f)
	}
	for _, ring := range n.rings(p.Plan) {
		s := n.into[ring[0]]
		p.Report(lint.Finding{
			Subject: ring[0].ID(), At: s.At(s.From.At),
			Message: fmt.Sprintf("%s: its data goes round in a ring (%s) that no port feeds; lead one signal of the ring from a port instead", ring[0].ID(), named(idsOf(ring))),
		})
	}
}

// signals is who passes data to whom, whichever ends are named.
type signals struct {
	into map[*schema.Run]*schema.Signal // the first signal that ends at the run
	out  map[*schema.Run][]*schema.Run
	from map[string]*schema.Signal // by port
	fed  map[*schema.Run]bool
}

func readSignals(plan *schema.Plan) *signals {
	n := &signals{map[*schema.Run]*schema.Signal{}, map[*schema.Run][]*schema.Run{}, map[string]*schema.Signal{}, map[*schema.Run]bool{}}
	var start []*schema.Run
	for _, s := range plan.Signals {
		if !s.From.Known() || !s.To.Known() || s.To.V.Run == nil {
			continue
		}
		to := s.To.V.Run
		if n.into[to] == nil {
			n.into[to] = s
		}
		if s.From.V.Run != nil {
			n.out[s.From.V.Run] = append(n.out[s.From.V.Run], to)
			continue
		}
		n.from[s.From.V.String()] = s
		start = append(start, to)
	}
	n.walk(start, n.fed)
	return n
}

// walk marks the runs and all behind them.
func (n *signals) walk(todo []*schema.Run, seen map[*schema.Run]bool) {
	for len(todo) > 0 {
		r := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if !seen[r] {
			seen[r] = true
			todo = append(todo, n.out[r]...)
		}
	}
}

func (n *signals) behind(r *schema.Run) int {
	seen := map[*schema.Run]bool{}
	n.walk([]*schema.Run{r}, seen)
	return len(seen) - 1
}

// lineEnd is the last run of a data line from a run on; nil where the line comes back to itself or leads into until.
func (n *signals) lineEnd(r, until *schema.Run) *schema.Run {
	for seen := map[*schema.Run]bool{}; !seen[r] && r != until; r = n.out[r][0] {
		if len(n.out[r]) == 0 {
			return r
		}
		seen[r] = true
	}
	return nil
}

func (n *signals) freePorts(plan *schema.Plan) []*schema.Port {
	var out []*schema.Port
	for _, c := range plan.Controllers {
		for _, p := range c.Ports {
			if n.from[p.ID()] == nil {
				out = append(out, p)
			}
		}
	}
	return out
}

// rings lists the rings of runs that pass data to each other and get none.
func (n *signals) rings(plan *schema.Plan) [][]*schema.Run {
	known := map[*schema.Run]bool{} // has data, or hangs behind a run that is reported
	for _, r := range plan.Runs {
		if n.fed[r] || n.into[r] == nil {
			n.walk([]*schema.Run{r}, known)
		}
	}
	var out [][]*schema.Run
	for _, r := range plan.Runs {
		if known[r] {
			continue
		}
		// Going back from run to run ends in the ring.
		seen := map[*schema.Run]bool{}
		at := r
		for !seen[at] {
			seen[at] = true
			at = n.into[at].From.V.Run
		}
		ring := []*schema.Run{at}
		for b := n.into[at].From.V.Run; b != at; b = n.into[b].From.V.Run {
			ring = append(ring, b)
		}
		n.walk([]*schema.Run{at}, known)
		out = append(out, ring)
	}
	return out
}

// lastOfChain is the last run of the plan's only chain.
func lastOfChain(p *lint.Pass) (*schema.Run, bool) {
	var last *schema.Run
	for _, port := range p.Figures.Ports {
		if len(port.Runs) == 0 {
			continue
		}
		if last != nil {
			return nil, false
		}
		last = port.Runs[len(port.Runs)-1].Run
	}
	return last, last != nil
}

// addSignal adds a signal behind the run that it leads to.
func addSignal(plan *schema.Plan, from string, r *schema.Run) []lint.Fix {
	if r.Copy > 0 || !r.DataEnters.Known() {
		return nil
	}
	text := fmt.Sprintf("signal %q {\n  from = %s\n  to   = %s\n}", freeName(plan, "signal", r.Name), from, r.DataIn())
	return []lint.Fix{{Title: "Add a signal from " + from, Edits: []lint.Edit{after(r.Node, text)}}}
}
