package report

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
)

// Baseline is a list of findings that are known and left for later.
type Baseline struct {
	Version int     `json:"version"`
	Known   []Known `json:"findings"`
}

// Known is one finding of a baseline. Only the fingerprint counts; the rest
// tells a reader what it is.
type Known struct {
	Fingerprint string `json:"fingerprint"`
	Plan        string `json:"plan"`
	Rule        string `json:"rule"`
	Subject     string `json:"subject,omitempty"`
	Message     string `json:"message"`
}

const baselineVersion = 1

// ReadBaseline reads a baseline file.
func ReadBaseline(data []byte) (*Baseline, error) {
	var b Baseline
	if err := json.Unmarshal(data, &b); err != nil {
		return nil, fmt.Errorf("it is not a baseline: %w", err)
	}
	if b.Version != baselineVersion {
		return nil, fmt.Errorf("it is a baseline of version %d; this program reads version %d", b.Version, baselineVersion)
	}
	return &b, nil
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
		b.Known = append(b.Known, Known{f.Fingerprint, f.Plan, f.Rule, f.Subject, f.Message})
	}
	slices.SortStableFunc(b.Known, func(x, y Known) int {
		return cmp.Or(cmp.Compare(x.Plan, y.Plan), cmp.Compare(x.Rule, y.Rule), cmp.Compare(x.Subject, y.Subject))
	})
	return b
}

// Write writes the baseline file.
func (b *Baseline) Write(w io.Writer) error { return indented(w, b) }

// Apply drops the known findings from a run and returns the dead entries:
// those of judged plans that match nothing any more.
func (b *Baseline) Apply(r *Run) (dead []Known) {
	known := map[string]bool{}
	for _, k := range b.Known {
		known[k.Fingerprint] = true
	}
	met := map[string]bool{}
	r.Keep(func(f *Finding) bool {
		if known[f.Fingerprint] {
			met[f.Fingerprint] = true
			return false
		}
		return true
	})
	for _, k := range b.Known {
		if !met[k.Fingerprint] && r.judged(k.Plan) {
			dead = append(dead, k)
		}
	}
	return dead
}

func (r *Run) judged(dir string) bool {
	return slices.ContainsFunc(r.Plans, func(p *Plan) bool { return p.Dir == dir })
}
