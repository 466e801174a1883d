package rules

import (
	"fmt"

	"ohmstead/calc/ingress"
	"ohmstead/lint"
	"ohmstead/schema"
)

var EnclosureUnsaid = &lint.Rule{
	Name:  "enclosure-unsaid",
	Title: "Nothing says what water a part stands",
	Level: lint.Warning,
	Guard: true,
	Why: `The plan says that a place has water, and of some parts there nothing says how much they stand.
Boards, terminals and bare strip stand none. One finding names all parts of one place.`,
	Do: `Read the class off the part, or off the box that it sits in, and write it as ` + "`enclosure`" + `.
What sits dry gets ` + "`exposure = \"dry\"`" + `.`,
	NoFix:   "The class stands on the part itself, and only who has it at hand can read it there.",
	Sources: []string{"as enclosure-weak: IEC 60529, IEC 60364-5-51 table 51A"},
	Bad:     func() string { return instead(outdoors("IP67"), "  enclosure = \"IP65\"\n\n", "") },
	Good:    func() string { return outdoors("IP67") },
	Check:   checkEnclosureUnsaid,
}

func checkEnclosureUnsaid(p *lint.Pass) {
	type place struct {
		of    *schema.Header
		first standing
		parts []string
	}
	var places []*place
	found := map[*schema.Header]*place{}
	eachStanding(p.Plan, func(x standing) {
		if !x.unsaid(schema.Water[x.V]) {
			return
		}
		at := found[x.Of]
		if at == nil {
			at = &place{of: x.Of, first: x}
			found[x.Of], places = at, append(places, at)
		}
		at.parts = append(at.parts, x.Header.ID())
	})
	for _, at := range places {
		verb, theirs, where := "stand", "their own or their box's", "they sit"
		if len(at.parts) == 1 {
			verb, theirs, where = "stands", "its own or its box's", "it sits"
		}
		p.Report(lint.Finding{
			Subject: at.of.ID(), At: at.first.Inherited.At,
			Message: fmt.Sprintf("nothing says what water %s %s, in %s; write enclosure, %s (IPX%d at the least), or exposure = \"dry\" where %s dry",
				named(at.parts), verb, at.first.wetly(), theirs, schema.Water[at.first.V], where),
		})
	}
}

// unsaid reports that no class keeps the water out, and that one that may is
// not given.
func (x standing) unsaid(water int) bool {
	open := false
	for i, c := range x.classes() {
		keeps, known := ingress.Keeps(c.V, water)
		if c.Bad || keeps {
			return false
		}
		open = open || i == 0 && !known
	}
	return open
}
