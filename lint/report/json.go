package report

import (
	"encoding/json"
	"io"
	"math"

	"ohmstead/lint"
	"ohmstead/schema"
)

// The machine-readable form. Fields are added, never renamed.
type (
	jsonRun struct {
		Tool     jsonTool      `json:"tool"`
		Findings []jsonFinding `json:"findings"`
		Hidden   []jsonHidden  `json:"hidden"`
		Policies []Policy      `json:"policies,omitempty"` // with --since: what policies judge otherwise
		Unjudged []jsonPlace   `json:"unjudged,omitempty"` // wiring that was not judged: where what has to be known first is written
		Open     []jsonPlace   `json:"open,omitempty"`     // what comments with # ? say is still to be decided or measured
		Summary  jsonSummary   `json:"summary"`
	}
	jsonTool struct {
		Name    string `json:"name"`
		Version string `json:"version"` // of the program, which the rules come with
	}
	jsonHidden struct {
		jsonFinding
		By     jsonSource `json:"by"`
		Policy bool       `json:"policy"` // means is policy
		Means  lint.Means `json:"means"`  // comment, policy or baseline
		Guard  bool       `json:"guard"`  // its rule guards against fire or shock
		Reason string     `json:"reason"`
	}
	jsonSource struct {
		File  string    `json:"file"`
		Range jsonRange `json:"range"`
	}
	jsonFinding struct {
		Rule        string      `json:"rule"`
		Level       string      `json:"level"`
		Subject     string      `json:"subject"`
		Message     string      `json:"message"`
		File        string      `json:"file"`
		Range       jsonRange   `json:"range"`
		Value       *jsonValue  `json:"value"`
		Case        string      `json:"case"`
		Related     []jsonPlace `json:"related"`
		Fixes       []jsonFix   `json:"fixes"`
		Plan        string      `json:"plan"`
		Fingerprint string      `json:"fingerprint"`
		Link        string      `json:"link"`
		Members     []string    `json:"members,omitempty"` // the copies that it is about, where there are several
	}
	jsonRange struct {
		Start jsonPoint `json:"start"`
		End   jsonPoint `json:"end"`
	}
	jsonPoint struct {
		Line   int `json:"line"`
		Column int `json:"column"`
		Byte   int `json:"byte"`
	}
	jsonValue struct {
		Got   Number `json:"got"`
		Limit Number `json:"limit"`
		Unit  string `json:"unit"`
	}
	jsonPlace struct {
		Message string    `json:"message"`
		File    string    `json:"file"`
		Range   jsonRange `json:"range"`
	}
	jsonFix struct {
		Title string     `json:"title"`
		Safe  bool       `json:"safe"` // what grade says, as it was said before there were three
		Grade string     `json:"grade"`
		Edits []jsonEdit `json:"edits"`
	}
	jsonEdit struct {
		File  string    `json:"file"`
		Range jsonRange `json:"range"`
		New   string    `json:"new"`
	}
	jsonSummary struct {
		Plans    int `json:"plans"`
		Errors   int `json:"errors"`
		Warnings int `json:"warnings"`
		Hints    int `json:"hints"`
		Known    int `json:"known"`
	}
)

// Number is a number that is null in JSON where it is not finite.
type Number float64

// MarshalJSON writes the shortest form that reads back the same.
func (n Number) MarshalJSON() ([]byte, error) {
	if f := float64(n); math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

// JSON writes the machine-readable form: places with line and column counted
// from 1 in Unicode characters and bytes counted from 0, values in SI units.
func JSON(w io.Writer, r *Run, s Style) error {
	out := jsonRun{Tool: jsonTool{"ohmstead", r.Version}, Findings: []jsonFinding{}, Hidden: []jsonHidden{}}
	for f := range r.All {
		out.Findings = append(out.Findings, s.json(f))
	}
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			out.Hidden = append(out.Hidden, jsonHidden{s.json(h.Finding), jsonSource{s.path(h.By.Path()), rangeOf(h.By)}, h.Means == lint.Policy, h.Means, h.Guard, h.Reason})
		}
	}
	for _, p := range r.Plans {
		for _, n := range p.Unjudged {
			out.Unjudged = append(out.Unjudged, jsonPlace{n.Message, s.path(n.Path()), rangeOf(n.Place)})
		}
		for _, n := range p.Open {
			out.Open = append(out.Open, jsonPlace{n.Message, s.path(n.Path()), rangeOf(n.Place)})
		}
	}
	out.Policies = r.Policies
	out.Summary = jsonSummary{len(r.Plans), r.Count(lint.Error), r.Count(lint.Warning), r.Count(lint.Hint), r.Known}
	return indented(w, out)
}

func (s Style) json(f *Finding) jsonFinding {
	j := jsonFinding{
		Rule: f.Rule, Level: f.Level.String(), Subject: f.Subject, Message: f.Message,
		File: s.path(f.Place.Path()), Range: rangeOf(f.Place), Case: f.Case,
		Related: []jsonPlace{}, Fixes: []jsonFix{},
		Plan: s.path(f.Plan), Fingerprint: f.Fingerprint, Link: Link(f.Rule), Members: f.Members,
	}
	if f.Place.Text == nil {
		j.File = ""
	}
	if v := f.Value; v != nil {
		j.Value = &jsonValue{Number(v.Got), Number(v.Limit), v.Unit}
	}
	for _, n := range f.Notes {
		j.Related = append(j.Related, jsonPlace{n.Message, s.path(n.Path()), rangeOf(n.Place)})
	}
	for _, x := range f.Repairs {
		fix := jsonFix{Title: x.Title, Safe: x.Grade == schema.GradeNotation, Grade: x.Grade.String()}
		for _, e := range x.Edits {
			fix.Edits = append(fix.Edits, jsonEdit{s.path(e.Path()), rangeOf(e.Place), e.New})
		}
		j.Fixes = append(j.Fixes, fix)
	}
	return j
}

func rangeOf(p Place) jsonRange {
	var out jsonRange
	out.Start.Line, out.Start.Column = p.From()
	out.End.Line, out.End.Column = p.To()
	out.Start.Byte, out.End.Byte = p.Start, p.End
	return out
}

func indented(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
