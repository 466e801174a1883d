package terminal

import (
	"regexp"
	"strings"
	"sync"
)

var (
	boldMark = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\*\*([^*\n]+)\*\*`) })
	emphasis = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(^|[^*])\*([^*\n]+)\*`) })
	codeMark = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile("`([^`\n]+)`") })
	escaped  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\\([\\!\[\]<])`) })
)

// Plain turns the little Markdown that rules and hovers are written in into text:
// code set off by blanks, marks taken away, and what was bold given to bold.
func Plain(markdown string, bold func(string) string) string {
	var b strings.Builder
	fence := ""
	for line := range strings.Lines(markdown) {
		line = strings.TrimRight(line, "\n")
		marks := line[:len(line)-len(strings.TrimLeft(line, "`"))]
		switch {
		case fence != "" && marks == fence:
			fence = ""
			continue
		case fence != "":
			line = "    " + line
		case len(marks) >= 3:
			fence = marks
			continue
		case strings.HasPrefix(line, "#"):
			line = bold(strings.TrimLeft(line, "# "))
		default:
			line = boldMark().ReplaceAllStringFunc(line, func(m string) string { return bold(strings.Trim(m, "*")) })
			line = emphasis().ReplaceAllString(line, "$1$2")
			line = codeMark().ReplaceAllString(line, "$1")
			line = escaped().ReplaceAllString(line, "$1")
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return strings.TrimRight(b.String(), "\n") + "\n"
}
