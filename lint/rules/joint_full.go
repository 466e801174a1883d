package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var JointFull = &lint.Rule{
	Name:  "joint-full",
	Title: "More conductors end in a joint than it takes",
	Level: lint.Error,
	Why: `A joint has a place for each conductor.
Two conductors under one lever or screw loosen with heat and time; a loose contact gets hot.`,
	Formula: "Conductors that end in the plus side, and in the minus side, of the joint against its `ways`; each of `parallel` conductors counts.",
	Do:      `Use a joint with more ways, or chain two joints with a short lead of the same wire.`,
	Sources: []string{"common practice, no source (instructions of lever and screw joints: one conductor a place unless stated)"},
	Bad:     func() string { return hub("lever_joint_2") },
	Good:    func() string { return hub("lever_joint_3") },
	Check:   checkJointFull,
}

// hub is the shelf with its runs fed through a joint of the catalogue.
func hub(joint string) string {
	return instead(shelf, `lead "top" {
  from   = supply.brick.out`, `joint "hub" { like = catalog.`+joint+` }

lead "trunk" {
  from   = supply.brick.out
  to     = joint.hub
  wire   = catalog.awg_14
  length = "50 cm"
  fuse   = "10 A"
}

lead "top" {
  from   = joint.hub`, `lead "low" {
  from   = supply.brick.out`, `lead "low" {
  from   = joint.hub`)
}

// endsIn counts the conductors of each side that end in a joint, and lists
// the leads.
func endsIn(p *lint.Pass, j *schema.Joint) (plus, minus int, leads []*figures.Lead) {
	leads = p.Figures.Ends(j)
	for _, l := range leads {
		if l.Plus() {
			plus += max(l.Parallel.V, 1)
		}
		if l.Minus() {
			minus += max(l.Parallel.V, 1)
		}
	}
	return plus, minus, leads
}

func checkJointFull(p *lint.Pass) {
	for _, j := range p.Plan.Joints {
		if !j.Ways.Set || j.Ways.Bad {
			continue
		}
		plus, minus, leads := endsIn(p, j)
		n, side := plus, "plus"
		if minus > plus {
			n, side = minus, "minus"
		}
		if n <= j.Ways.V {
			continue
		}
		f := lint.Finding{
			Subject: j.ID(), At: j.At(j.Ways.At),
			Value:   &lint.Value{Got: float64(n), Limit: float64(j.Ways.V)},
			Message: fmt.Sprintf("%s: %s end in its %s side, which takes %d; use a joint of %d ways or more, or chain two", j.ID(), count(n, "conductor", "conductors"), side, j.Ways.V, n),
		}
		for _, l := range leads {
			f.Related = append(f.Related, lint.Related{At: l.Head(), Message: l.ID() + " ends here"})
		}
		p.Report(f)
	}
}
