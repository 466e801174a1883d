package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"ohmstead/lint"
	"ohmstead/lint/terminal"
)

// GitHub writes workflow commands, one a line, that the runner shows as
// annotations at the lines of a pull request. Form and escaping: GitHub Docs,
// "Workflow commands for GitHub Actions", and the command's own encoder
// (actions/toolkit, packages/core/src/command.ts).
func GitHub(w io.Writer, r *Run) error {
	kind := map[lint.Level]string{lint.Error: "error", lint.Warning: "warning", lint.Hint: "notice"}
	b := bufio.NewWriter(w)
	annotate := func(f *Finding, kind, title, message string) {
		fmt.Fprintf(b, "::%s ", kind)
		if path := f.Place.Path(); path != "" {
			line, column := f.Place.From()
			endLine, endColumn := f.Place.To()
			fmt.Fprintf(b, "file=%s,line=%d,endLine=%d,", propertyEscape.Replace(path), line, endLine)
			if line == endLine && endColumn > column { // columns of a stretch over several lines are refused
				fmt.Fprintf(b, "col=%d,endColumn=%d,", column, endColumn)
			}
		}
		fmt.Fprintf(b, "title=%s::%s\n", propertyEscape.Replace("ohmstead: "+title), messageEscape.Replace(logged(message)))
	}
	for f := range r.All {
		annotate(f, kind[f.Level], f.Rule, f.Message)
	}
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			how := "notice"
			if r.alarms(h) {
				how = "error"
			}
			annotate(h.Finding, how, h.Rule+" is hidden", h.how()+": "+h.Message)
		}
	}
	return b.Flush()
}

// logged keeps a message from steering the terminal that the log is read on;
// line breaks are escaped anyway.
func logged(message string) string {
	var lines []string
	for l := range strings.SplitSeq(message, "\n") {
		lines = append(lines, terminal.Printable(l))
	}
	return strings.Join(lines, "\n")
}

var (
	messageEscape  = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	propertyEscape = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)
