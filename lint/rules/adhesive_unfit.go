package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var AdhesiveUnfit = &lint.Rule{
	Name:  "adhesive-unfit",
	Title: "An adhesive does not hold what it sits on",
	Level: lint.Warning,
	Why: `An adhesive holds what it wets, and hardly anything wets silicone: its surface energy is 20 mN/m, where acrylic tape wants 38 and more.
A tube of silicone stuck with tape hangs for a day and comes down in the first warm night. Only silicone adhesive holds it.`,
	Do: `Hold a silicone tube with clips, brackets or a channel.
An adhesive that is silicone says so: ` + "`material = \"silicone\"`" + ` in the fixing.`,
	Sources: []string{
		"a tape maker's engineering data: surface energy of silicone 20, polypropylene 29 to 30, polyethylene 31, acrylic glass 38 mN/m; silicone adhesive alone for silicone",
		"common practice: tape does not hold a filled tube",
	},
	Bad: taped,
	Good: func() string {
		return instead(taped(), "fixing \"tape\" { kind = \"adhesive\" }", "fixing \"tape\" {\n  kind     = \"adhesive\"\n  material = \"silicone\"\n}")
	},
	Check: checkAdhesiveUnfit,
}

// taped is the tubed shelf with its tube stuck on.
func taped() string {
	return instead(tubed(),
		"surface \"wall\"", "fixing \"tape\" { kind = \"adhesive\" }\n\nsurface \"wall\"",
		"  diffuser = diffuser.tube\n", "  diffuser = diffuser.tube\n  fixing   = fixing.tape\n")
}

// fasten proposes other fixings for a run that are no adhesive.
func fasten(p *schema.Plan, r *schema.Run) [][]lint.Proposal {
	return exchange(p, &r.Header, "fixing", p.Fixings, func(x *schema.Fixing) bool { return x != r.Fixing.V && x.Kind.V != "adhesive" }, clipsFirst)
}

func clipsFirst(x *schema.Fixing) float64 {
	if x.Kind.V == "clip" {
		return 0
	}
	return 1
}

func checkAdhesiveUnfit(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		d, x := r.Diffuser.V, r.Fixing.V
		if d == nil || x == nil || !r.Diffuser.Known() || !r.Fixing.Known() || x.Kind.V != "adhesive" || x.Material.Bad || x.Material.V == "silicone" ||
			!d.Material.Known() || d.Material.V != "silicone" {
			continue
		}
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.At(r.Fixing.At),
			Message: fmt.Sprintf("%s: %s does not hold %s, which is silicone; use clips or a channel, or silicone adhesive (material = \"silicone\")", r.ID(), x.ID(), d.ID()),
			Propose: func() [][]lint.Proposal { return fasten(p.Plan, r.Run) },
		})
	}
}
