package report

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"ohmstead/lint"
)

// Baseline is a list of findings that are known and left for later.
type Baseline struct {
	Version int     `json:"version"`
	Known   []Known `json:"findings"`
}

// Known is one finding of a baseline. The fingerprint says which it is, the plan's
// directory of which plan of that name, members and value how much of it is known;
// the rest tells a reader what it is.
type Known struct {
	Fingerprint string   `json:"fingerprint"`
	Plan        string   `json:"plan"`
	Rule        string   `json:"rule"`
	Level       string   `json:"level,omitempty"`
	Subject     string   `json:"subject,omitempty"`
	Message     string   `json:"message"`
	Members     []string `json:"members,omitempty"`
	Got         *Number  `json:"got,omitempty"`
	Limit       *Number  `json:"limit,omitempty"`
}

const baselineVersion = 2

// ReadBaseline reads a baseline file.
func ReadBaseline(data []byte) (*Baseline, error) {
	var b Baseline
	if err := json.Unmarshal(data, &b); err != nil {
		return nil, fmt.Errorf("it is not a baseline: %w", err)
	}
	if b.Version != baselineVersion {
		return nil, fmt.Errorf("it is a baseline of version %d and this program reads version %d; remove it and write it anew with --write-baseline", b.Version, baselineVersion)
	}
	return &b, nil
}

// Entries reads the entries of a file, of whatever version; none of what is no baseline.
func Entries(data []byte) []Known {
	var b Baseline
	if err := json.Unmarshal(data, &b); err != nil || b.Version == 0 {
		return nil
	}
	return slices.DeleteFunc(b.Known, func(k Known) bool { return k.Fingerprint == "" || k.Rule == "" })
}

// NewBaseline lists all findings of a run. Of an older baseline it keeps what
// belongs to plans that the run did not judge.
func NewBaseline(r *Run, old *Baseline) *Baseline {
	b := &Baseline{Version: baselineVersion, Known: []Known{}}
	if old != nil {
		for _, k := range old.Known {
			if !r.judged(k.Plan) {
				b.Known = append(b.Known, k)
			}
		}
	}
	for f := range r.All {
		k := Known{f.identity, f.Plan, f.Rule, f.Level.String(), f.Subject, f.Message, f.Members, nil, nil}
		if v := f.Value; v != nil && !math.IsInf(v.Got, 0) && !math.IsNaN(v.Got) {
			got, limit := Number(v.Got), Number(v.Limit)
			k.Got, k.Limit = &got, &limit
		}
		b.Known = append(b.Known, k)
	}
	slices.SortStableFunc(b.Known, func(x, y Known) int {
		return cmp.Or(cmp.Compare(x.Plan, y.Plan), cmp.Compare(x.Rule, y.Rule), cmp.Compare(x.Subject, y.Subject))
	})
	return b
}

// Write writes the baseline file.
func (b *Baseline) Write(w io.Writer) error { return indented(w, b) }

// Apply hides the known findings of a run and returns the dead entries: those of
// judged plans that match nothing any more. An entry holds for its directory, and
// for a plan of the same name elsewhere where isPlan finds none there any more: a
// plan may be moved, but what is known of it says nothing of its copies. What is
// worse than it was known to be is told.
func (b *Baseline) Apply(r *Run, file string, isPlan func(dir string) bool) (dead []Known) {
	known := map[string][]int{}
	for i, k := range b.Known {
		known[k.Fingerprint] = append(known[k.Fingerprint], i)
	}
	met := make([]bool, len(b.Known))
	moved := map[string]bool{}
	gone := func(dir string) bool {
		if _, asked := moved[dir]; !asked {
			moved[dir] = !isPlan(dir)
		}
		return moved[dir]
	}
	for _, p := range r.Plans {
		p.Findings = slices.DeleteFunc(p.Findings, func(f *Finding) bool {
			if f.Rule == lint.RuleFailed {
				return false // what the rule would have found is not known
			}
			for _, i := range known[f.identity] {
				k := b.Known[i]
				if k.Plan != p.Dir && !gone(k.Plan) {
					continue
				}
				met[i] = true
				if f.Worse(k.finding()) {
					return false
				}
				r.Known++
				p.Hidden = append(p.Hidden, &Hidden{Finding: f, Means: lint.Baseline, Reason: "of an entry in " + file, Guard: r.rule(f.Rule).Guard})
				return true
			}
			return false
		})
		sortHidden(p.Hidden)
	}
	for i, k := range b.Known {
		if !met[i] && r.judged(k.Plan) {
			dead = append(dead, k)
		}
	}
	return dead
}

func (k Known) finding() *lint.Finding {
	f := &lint.Finding{Subject: k.Subject, Members: k.Members}
	if k.Got != nil && k.Limit != nil {
		f.Value = &lint.Value{Got: float64(*k.Got), Limit: float64(*k.Limit)}
	}
	return f
}

// Beyond lists the entries of a plan's directory that another baseline has not.
func (b *Baseline) Beyond(old *Baseline, dir string) (out []Known) {
	if b == nil {
		return nil
	}
	for _, k := range b.Known {
		if k.Plan == dir && (old == nil || !slices.ContainsFunc(old.Known, func(o Known) bool { return o.Fingerprint == k.Fingerprint && o.Plan == dir })) {
			out = append(out, k)
		}
	}
	return out
}

func (r *Run) judged(dir string) bool {
	return slices.ContainsFunc(r.Plans, func(p *Plan) bool { return p.Dir == dir })
}
