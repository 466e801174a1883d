package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/lint/report"
)

// sink is one place that a report goes to: a form, and a file or, without
// one, the standard output.
type sink struct{ form, file string }

var forms = []string{"text", "json", "sarif", "junit", "github", "gitlab"}

// readSinks reads the values of --format: "text", "sarif:FILE"; forms are those
// that there are.
func readSinks(values, forms []string) ([]sink, error) {
	var out []sink
	for _, v := range values {
		form, file, named := strings.Cut(v, ":")
		switch {
		case !slices.Contains(forms, form):
			return nil, fmt.Errorf("--format is %q; it takes %s, each with :FILE behind it to write to a file", v, strings.Join(forms, ", "))
		case named && file == "":
			return nil, fmt.Errorf("--format %q names no file behind the colon", v)
		case file == "-":
			file = ""
		}
		for _, o := range out {
			switch {
			case o.file == file && file == "":
				return nil, fmt.Errorf("--format %s and --format %s both go to the standard output; write one to a file with :FILE", o.form, form)
			case o.file == file:
				return nil, fmt.Errorf("--format %s and --format %s both go to %s", o.form, form, file)
			}
		}
		out = append(out, sink{form, file})
	}
	return out, nil
}

// write writes a run in the sink's form.
func (s sink) write(out io.Writer, r *report.Run, style report.Style) error {
	if s.file == "" {
		return s.to(out, r, style)
	}
	var b strings.Builder
	style.Color, style.Signed = false, true
	if err := s.to(&b, r, style); err != nil {
		return err
	}
	return wholefile.Write(s.file, []byte(b.String()))
}

func (s sink) to(w io.Writer, r *report.Run, style report.Style) error {
	if s.form != "text" { // which has colours, and takes care of each value
		w = report.Out(w, s.form)
	}
	switch s.form {
	case "json":
		return report.JSON(w, r, style)
	case "sarif":
		return report.SARIF(w, r, release(version()))
	case "junit":
		return report.JUnit(w, r)
	case "github":
		return report.GitHub(w, r)
	case "gitlab":
		return report.GitLab(w, r)
	}
	return report.Text(w, r, style)
}
