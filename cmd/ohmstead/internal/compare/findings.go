package compare

import (
	"ohmstead/lint"
	"ohmstead/lint/report"
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
}

// findings tells the findings apart by their fingerprints. Those of base are
// read with the names that head uses: a renamed run keeps its findings.
func (m *matching) findings() Findings {
	was, is := m.signed(m.base, true), m.signed(m.head, false)
	before := map[string]bool{}
	for _, f := range was {
		before[f.Fingerprint] = true
	}
	out := Findings{New: []Finding{}, Gone: []Finding{}, Kept: []Finding{}}
	after := map[string]bool{}
	for _, f := range is {
		after[f.Fingerprint] = true
		if before[f.Fingerprint] {
			out.Kept = append(out.Kept, f)
		} else {
			out.New = append(out.New, f)
		}
	}
	for _, f := range was {
		if !after[f.Fingerprint] {
			out.Gone = append(out.Gone, f)
		}
	}
	return out
}

// signed gives a side's findings their fingerprints.
func (m *matching) signed(v *version, old bool) []Finding {
	found := make([]lint.Finding, len(v.Findings))
	copy(found, v.Findings)
	if old {
		for i := range found {
			found[i].Subject = m.renamed(found[i].Subject)
			found[i].Message = m.renamed(found[i].Message)
		}
	}
	plan := report.Resolve(v.Plan, found)
	plan.Call(m.head.Plan.Dir)
	var out []Finding
	for f := range report.NewRun([]*report.Plan{plan}, nil).All {
		line, _ := f.Place.From()
		out = append(out, Finding{f.Rule, f.Level.String(), f.Subject, f.Message, f.Place.Path(), line, f.Case, f.Fingerprint})
	}
	return out
}

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
