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
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(struct {
		*Report
		Summary []planSummary `json:"summary"`
	}{&out, summaries(r)})
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
