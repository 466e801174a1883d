package rules

import (
	"fmt"
	"math"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var JointUnprotected = &lint.Rule{
	Name:   "joint-unprotected",
	Title:  "A fault can drive more through a joint than its rating",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Fault,
	Why: `A fuse that protects the wire may still be larger than the plug or the terminal between them.
In a short circuit behind a 3 A plug a 7.5 A fuse lets 7.5 A flow for hours, and the contact is what burns.
So a joint is judged as a conductor is: from every source that can feed a fault behind it.`,
	Formula: "The greatest current that can reach a fault through one plus contact of the joint, as wire-unprotected finds it: what enters each lead there, past that lead's fuse, or comes out of it; against `rating`.",
	Do: `Fit a fuse no larger than the joint's rating in front of it, or use a joint that is rated for the fuse that is there.
The code in force where the work is done decides.`,
	Sources: []string{
		"IEC 60364-4-43, clause 433.1 (the device protects everything in the circuit behind it; from memory)",
		"common practice, no source: a supply's own protection surely acts at 150 % of its rating",
	},
	Bad: func() string {
		return instead(hub("lever_joint_3"), `{ like = catalog.lever_joint_3 }`, "{\n  like   = catalog.lever_joint_3\n  rating = \"8 A\"\n}")
	},
	Good:  func() string { return hub("lever_joint_3") },
	Check: checkJointUnprotected,
}

func checkJointUnprotected(p *lint.Pass) {
	for i, j := range p.Plan.Joints {
		if j.Broken || !j.Rating.Set || j.Rating.Bad {
			continue
		}
		if load, _ := p.Figures.WorstJoint(i); load > j.Rating.V.SI*(1+1e-9) {
			continue // joint-overcurrent says so, and what rating will do
		}
		fault := p.Figures.JointFault(j)
		if !exposed(fault) {
			continue
		}
		p.Report(lint.Finding{
			Subject: j.ID(), At: j.At(j.Rating.At), Case: schema.Full,
			Value: &lint.Value{Got: fault.Amps, Limit: j.Rating.V.SI, Unit: "A"},
			Message: fmt.Sprintf("%s: %s, above its rating of %s; fit a fuse of %s or less in front of it, or use a joint of %s or more",
				j.ID(), faultOf(fault, "what it feeds", j.Rating.V.SI), j.Rating.V, showAmps(fuseFor(fault, j.Rating.V.SI)), showAmps(math.Ceil(fault.Amps))),
			Related: throughFuses(fault),
			Propose: func() [][]lint.Proposal {
				var out [][]lint.Proposal
				for _, l := range p.Figures.Ends(j) {
					if !l.OK || !l.Plus() {
						continue
					}
					fits := refuse(p.Figures, l)
					for i := range fits {
						fits[i].Title += " in " + l.ID()
					}
					out = append(out, fits)
				}
				return out
			},
		})
	}
}
