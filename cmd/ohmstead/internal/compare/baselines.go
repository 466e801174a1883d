package compare

import (
	"fmt"
	"slices"

	"ohmstead/lint"
	"ohmstead/lint/report"
)

// Baseline is a file of known findings that takes in others now: whoever checks by
// it is not told of them.
type Baseline struct {
	File string  `json:"file"`
	New  []Entry `json:"new"`
	Gone []Entry `json:"gone"`
}

// Entry is a finding that a baseline knows.
type Entry struct {
	Plan    string `json:"plan"` // its directory
	Rule    string `json:"rule"`
	Level   string `json:"level"`
	Subject string `json:"subject"`
	Message string `json:"message"`
	Guard   bool   `json:"guard"` // its rule guards against fire or shock
}

// Baselines compares the entries of a baseline; differs is false where both know the same.
func Baselines(file string, was, is []report.Known) (b Baseline, differs bool) {
	b = Baseline{File: file, New: []Entry{}, Gone: []Entry{}}
	beyond := func(a, other []report.Known) []Entry {
		out := []Entry{}
		for _, k := range a {
			if !slices.ContainsFunc(other, func(o report.Known) bool {
				return o.Fingerprint == k.Fingerprint && o.Plan == k.Plan && len(o.Members) >= len(k.Members)
			}) {
				out = append(out, Entry{k.Plan, k.Rule, k.Level, k.Subject, k.Message, guards(k.Rule)})
			}
		}
		slices.SortStableFunc(out, func(x, y Entry) int { return rank(y) - rank(x) })
		return out
	}
	b.New, b.Gone = beyond(is, was), beyond(was, is)
	return b, len(b.New)+len(b.Gone) > 0
}

func rank(x Entry) int {
	l, _ := lint.LevelNamed(x.Level)
	if x.Guard {
		return 10 + int(l)
	}
	return int(l)
}

// weigh gives entries the levels that the findings have, where the file does not say
// them, and puts the gravest first.
func (r *Report) weigh(entries []Entry) {
	for i := range entries {
		x := &entries[i]
		for _, p := range r.Plans {
			for _, fs := range [][]Finding{p.Findings.New, p.Findings.Kept} {
				for _, f := range fs {
					if x.Level == "" && p.Dir == x.Plan && f.Rule == x.Rule && f.Subject == x.Subject {
						x.Level = f.Level
					}
				}
			}
		}
	}
	slices.SortStableFunc(entries, func(a, b Entry) int { return rank(b) - rank(a) })
}

// news tells the gravest of what a baseline takes in or lets go.
func (b Baseline) news() []news {
	var out []news
	if len(b.New) > 0 {
		x := b.New[0]
		n := news{weight: quietened, kind: "baseline " + b.File, text: fmt.Sprintf("%s takes in %s: %s at %s of %s", b.File, countOf(len(b.New), "finding", "findings"), x.guarded(), x.Subject, x.Plan)}
		if len(b.New) > 1 {
			n.text += fmt.Sprintf("; also %s at %s", b.New[1].Rule, b.New[1].Subject)
		}
		if x.Guard {
			n.weight = silencedGuard
		}
		out = append(out, n)
	}
	if len(b.Gone) > 0 {
		x := b.Gone[0]
		out = append(out, news{weight: toldAgain, kind: "baseline " + b.File, text: fmt.Sprintf("%s lets go of %s: %s at %s of %s", b.File, countOf(len(b.Gone), "finding", "findings"), x.Rule, x.Subject, x.Plan)})
	}
	return out
}

func (x Entry) guarded() string {
	if x.Guard {
		return x.Rule + ", which guards against fire or shock,"
	}
	return x.Rule
}
