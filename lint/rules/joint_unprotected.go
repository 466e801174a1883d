package rules

import (
	"fmt"
	"math"
	"slices"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
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
	load := sizing.Loads{}
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
			Message: fmt.Sprintf("%s: %s, above its rating of %s; %s",
				j.ID(), faultOf(fault, "what it feeds", j.Rating.V.SI), j.Rating.V, saveJoint(p.Figures, j, fault, load)),
			Related: throughFuses(fault),
			Propose: func() [][]lint.Proposal {
				var out [][]lint.Proposal
				leads := slices.Clone(p.Figures.Ends(j))
				for _, l := range fault.Through {
					if !slices.Contains(leads, l) {
						leads = append(leads, l)
					}
				}
				for _, l := range leads {
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

// saveJoint says what protects a joint from a fault: a fuse that is sold and carries the load, where one does, or a
// joint that takes what is there.
func saveJoint(f *figures.Figures, j *schema.Joint, fault figures.Exposure, load sizing.Loads) string {
	joint := fmt.Sprintf("use a joint of %s or more", showAmps(math.Ceil(fault.Amps)))
	most := showAmps(fuseFor(fault, j.Rating.V.SI))
	if len(fault.Through) > 1 {
		return fmt.Sprintf("fit fuses of %s or less in all in front of it, or %s", most, joint)
	}
	places := before(f, j, fault)
	if len(places) == 0 {
		return fmt.Sprintf("fit a fuse of %s or less in front of it, or %s", most, joint)
	}
	for _, l := range places {
		fit := sizing.FuseFor(f, l, load.Of(f, l))
		kind, which := fit.Kind, ""
		suit := slices.DeleteFunc(fit.Ratings, func(a float64) bool { return !kind.Protects(a, j.Rating.V.SI) })
		if len(suit) > 0 {
			which = sizing.AnyFuse(suit)
		} else if largest, some := kind.LargestFor(min(j.Rating.V.SI, l.Ampacity, f.Behind(l))); some && !f.WorstLead(l).OK {
			which = fuseOf(largest).Exact() + " or less"
		}
		if which == "" {
			continue
		}
		from := ""
		if f.Backwards(l) { // a fuse protects nothing at its other end
			from = fmt.Sprintf(", with %s as its from", l.To.V)
		}
		return fmt.Sprintf("fit a %s fuse of %s in %s%s, or %s", kind.Name, which, l.ID(), from, joint)
	}
	l := places[0]
	return fmt.Sprintf("%s: no %s fuse that protects it carries the %s of %s", joint, sizing.KindFor(l, load.Of(f, l)).Name, showAmps(load.Of(f, l)), l.ID())
}

// before lists the leads in which a fuse protects a joint from all that can feed a fault behind it: the one with the fuse
// that lets all of it through, and the one without that alone brings plus to the joint.
func before(f *figures.Figures, j *schema.Joint, fault figures.Exposure) (out []*figures.Lead) {
	for _, l := range fault.Through { // one at most
		if fault.Amps <= l.Device.Counts(l.Fuse.V.SI)*(1+1e-9) {
			out = append(out, l)
		}
	}
	if bring := f.Bringing(j); len(bring) == 1 && bring[0].OK && !bring[0].Fuse.Set {
		out = append(out, bring[0])
	}
	return out
}
