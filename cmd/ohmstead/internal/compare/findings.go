package compare

import (
	"slices"

	"ohmstead/lint"
	"ohmstead/lint/report"
	"ohmstead/lint/rules"
)

// Findings says what was found on one side only, and what on both.
type Findings struct {
	New  []Finding `json:"new"`
	Gone []Finding `json:"gone"`
	Kept []Finding `json:"still"`
}

// Finding is a finding as it is told in a comparison.
type Finding struct {
	Rule        string `json:"rule"`
	Level       string `json:"level"`
	Subject     string `json:"subject"`
	Message     string `json:"message"`
	File        string `json:"file"`
	Line        int    `json:"line"`
	Case        string `json:"case,omitempty"`
	Fingerprint string `json:"fingerprint"`
	// Members are the copies that a finding is about, where it is about several.
	Members []string `json:"members,omitempty"`
	// Worse says that it was there before, about fewer copies or nearer to its limit.
	Worse bool `json:"worse,omitempty"`
	// Again says that it was hidden before.
	Again bool `json:"again,omitempty"`
	// Guard says that its rule is one against fire or shock.
	Guard bool `json:"guard,omitempty"`

	found *lint.Finding
	was   *lint.Finding // of one that is worse now
}

// findings tells the findings apart by their fingerprints, and what the plan
// hides of them. Those of base are read with the names that head uses: a renamed
// run keeps its findings. What is only hidden now is not gone.
func (m *matching) findings() (Findings, Silenced) {
	was, wasHidden := m.signed(m.base, true)
	is, isHidden := m.signed(m.head, false)
	silenced := silenced(wasHidden, isHidden)
	before := map[string]Finding{}
	for _, f := range was {
		before[f.Fingerprint] = f
	}
	hidden := map[string]bool{}
	for _, s := range wasHidden {
		hidden[s.Fingerprint] = true
	}
	out := Findings{New: []Finding{}, Gone: []Finding{}, Kept: []Finding{}}
	after := map[string]bool{}
	for _, s := range isHidden {
		after[s.Fingerprint] = true
	}
	for _, f := range is {
		after[f.Fingerprint] = true
		switch old, ok := before[f.Fingerprint]; {
		case !ok:
			f.Again = hidden[f.Fingerprint]
			out.New = append(out.New, f)
		case f.found.Worse(old.found):
			f.Worse, f.was = true, old.found
			out.New = append(out.New, f)
		default:
			out.Kept = append(out.Kept, f)
			silenced.lowered(old, f)
		}
	}
	for _, f := range was {
		if !after[f.Fingerprint] {
			out.Gone = append(out.Gone, f)
		}
	}
	return out, silenced
}

// signed gives a side's findings, told and hidden, their fingerprints.
func (m *matching) signed(v *version, old bool) (out []Finding, hidden []Silence) {
	found, not := slices.Clone(v.Findings), slices.Clone(v.Hidden)
	if old {
		rename := func(f *lint.Finding) {
			f.Subject, f.Message = m.renamed(f.Subject), m.renamed(f.Message)
			f.Members = slices.Clone(f.Members)
			for i := range f.Members {
				f.Members[i] = m.renamed(f.Members[i])
			}
		}
		for i := range found {
			rename(&found[i])
		}
		for i := range not {
			rename(&not[i].Finding)
		}
	}
	plan := report.Resolve(v.Plan, found)
	plan.Hide(v.Plan, not)
	if old {
		plan.Call(m.head.Plan.Dir, m.head.Plan.Name())
		for i, dir := range m.base.Plan.StockDirs {
			if is := m.head.Plan.StockDirs; len(is) == len(m.base.Plan.StockDirs) {
				plan.CallStock(dir, is[i])
			}
		}
	}
	as := func(f *report.Finding) Finding {
		line, _ := f.Place.From()
		return Finding{f.Rule, f.Level.String(), f.Subject, f.Message, f.Place.Path(), line, f.Case, f.Fingerprint, f.Members, false, false, guards(f.Rule),
			&lint.Finding{Subject: f.Subject, Members: f.Members, Value: f.Value}, nil} // a report of many plans keeps no plan in memory
	}
	for f := range report.NewRun([]*report.Plan{plan}, nil).All {
		out = append(out, as(f))
	}
	for _, h := range plan.Hidden {
		line, _ := h.By.From()
		hidden = append(hidden, Silence{Finding: as(h.Finding), Guard: h.Guard, By: string(h.Means), ByFile: h.By.Path(), ByLine: line, Reason: h.Reason})
	}
	return out, hidden
}

// guards reports whether a rule is one against fire or shock.
func guards(rule string) bool {
	r, ok := ruleNamed(rule)
	return ok && r.Guard
}

func ruleNamed(name string) (*lint.Rule, bool) { return lint.RuleNamed(rules.All, name) }

// count is the number of findings of a level.
func count(fs []Finding, level lint.Level) int {
	n := 0
	for _, f := range fs {
		if f.Level == level.String() {
			n++
		}
	}
	return n
}
