package compare

import (
	"encoding/json"
	"io"
)

// JSON writes the report for programs. Values are SI; fields are added, never
// renamed.
func JSON(w io.Writer, r *Report) error {
	out := *r
	if out.Plans == nil {
		out.Plans = []*Plan{}
	}
	if out.Moved == nil {
		out.Moved = []Moved{}
	}
	if out.Drawers == nil {
		out.Drawers = []Drawer{}
	}
	if out.Baselines == nil {
		out.Baselines = []Baseline{}
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(struct {
		*Report
		Top     []string      `json:"top"` // the headline and the gravest news
		Summary []planSummary `json:"summary"`
	}{&out, r.top(), summaries(r)})
}

// planSummary is the summary of one plan as people read it.
type planSummary struct {
	Dir   string   `json:"dir"`
	Lines []string `json:"lines"`
}

func summaries(r *Report) []planSummary {
	out := []planSummary{}
	for _, p := range r.Plans {
		s := planSummary{Dir: p.Dir, Lines: []string{}}
		for _, x := range p.Summary() {
			s.Lines = append(s.Lines, x.About+": "+x.Text)
		}
		out = append(out, s)
	}
	return out
}
