package rules

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
)

var JointOvercurrent = &lint.Rule{
	Name:   "joint-overcurrent",
	Title:  "A joint carries more current than it is rated for",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Load,
	Why: `A contact heats with the square of the current through it.
Above its rating a joint softens, loosens and gets hotter still; joints are where strip installations burn.
A joint that says no rating cannot be judged, which is a warning; a soldered one has none.
The power terminal of a board is a joint as well where other parts are fed from it, and above 3 A that is a warning.`,
	Formula: "Current that enters the plus side of the joint, in case full and, for each lead that ends in it, the greatest over every pattern, against `rating`. For contacts that leads share with a fuse, the fuse does not count: it may be larger than the joint.",
	Do: `Use a joint of a higher rating, or split the load over two joints.
Check after the first hour that it is not more than hand-warm.`,
	Sources: []string{"makers' ratings; common practice, no source"},
	Bad: func() string {
		return instead(hub("lever_joint_3"), `{ like = catalog.lever_joint_3 }`, "{\n  like   = catalog.lever_joint_3\n  rating = \"4 A\"\n}")
	},
	Good:  func() string { return hub("lever_joint_3") },
	Check: checkJointOvercurrent,
}

func checkJointOvercurrent(p *lint.Pass) {
	boardsAsJoints(p)
	for i, j := range p.Plan.Joints {
		if j.Broken || j.Rating.Bad || j.Kind.Bad || !j.Rating.Set && j.Kind.V == "solder" {
			continue
		}
		worst, name := p.Figures.WorstJoint(i)
		if !j.Rating.Set {
			if worst > 0 {
				p.Report(lint.Finding{
					Subject: j.ID(), At: j.Head(), Case: name, Level: lint.Warning,
					Message: fmt.Sprintf("%s carries up to %s in case %s and says no rating; write rating = \"…\" as its maker prints it, or like one from the catalogue",
						j.ID(), showAmps(worst), name),
				})
			}
			continue
		}
		rating := j.Rating.V.SI
		if worst <= rating*(1+1e-9) {
			continue
		}
		p.Report(lint.Finding{
			Subject: j.ID(), At: j.At(j.Rating.At), Case: name,
			Value: &lint.Value{Got: worst, Limit: rating, Unit: "A"},
			Message: fmt.Sprintf("%s carries %s in case %s, above its rating of %s; use one of %s or more, or split the load over two",
				j.ID(), quantity.ShowAgainst(quantity.Current, worst, rating), name, j.Rating.V, showAmps(math.Ceil(max(worst, p.Figures.JointFault(j).Amps)))),
		})
	}
}
