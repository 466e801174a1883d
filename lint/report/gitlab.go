package report

import (
	"io"

	"ohmstead/lint"
)

// gitlabIssue is one entry of a code quality report. Fields and their allowed
// values: GitLab Docs, "Code Quality", section "Code Quality report format".
type gitlabIssue struct {
	Description string `json:"description"`
	CheckName   string `json:"check_name"`
	Fingerprint string `json:"fingerprint"`
	Severity    string `json:"severity"` // info, minor, major, critical or blocker
	Location    struct {
		Path  string `json:"path"`
		Lines struct {
			Begin int `json:"begin"`
			End   int `json:"end"`
		} `json:"lines"`
	} `json:"location"`
}

// GitLab writes a code quality report.
func GitLab(w io.Writer, r *Run) error {
	severity := map[lint.Level]string{lint.Error: "critical", lint.Warning: "major", lint.Hint: "info"}
	out := []gitlabIssue{}
	add := func(f *Finding, severity, description string) {
		i := gitlabIssue{Description: description, CheckName: f.Rule, Fingerprint: f.Fingerprint, Severity: severity}
		i.Location.Path = f.Place.Path()
		if i.Location.Path == "" {
			i.Location.Path = f.Plan
		}
		i.Location.Lines.Begin, _ = f.Place.From()
		i.Location.Lines.End, _ = f.Place.To()
		out = append(out, i)
	}
	for f := range r.All {
		add(f, severity[f.Level], f.Message)
	}
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			how := "info"
			switch {
			case r.alarms(h):
				how = "critical"
			case h.Guard:
				how = "minor"
			}
			add(h.Finding, how, h.how()+": "+h.Message)
		}
	}
	return indented(w, out)
}
