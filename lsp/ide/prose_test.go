package ide

import (
	"fmt"
	"strings"
	"testing"

	"ohmstead/lint"
)

// What a plan says is text in a hover, whatever it holds: no image, no link that
// names another place, no tag, no end of the fence that it stands in.
func TestHoverShowsNoMarkup(t *testing.T) {
	for _, hostile := range []string{
		"![i](http://example.invalid/i.png)", "[l](command:x)", "<img src=x>", "``` <b>", "**b** `c`", `x\u001b[31m\u202e\u200b`, `x\n\n![i](y)`,
	} {
		text := fmt.Sprintf("plan \"p\" {}\nstrip \"s\" {\n  like   = catalog.ws2812b_5v_60\n  source = \"%[1]s\"\n}\ncase \"%[1]s\" {}\nrun \"%[1]s\" {\n  strip  = strip.s\n  length = \"1 m\"\n}\nlet { x = \"%[1]s\" }\n", hostile)
		v := viewOf(text)
		hovers := 0
		for at := range len(text) {
			h, ok := HoverAt(v, at, "full")
			if !ok {
				continue
			}
			hovers++
			said := outsideOfCode(h.Markdown)
			for _, bad := range []string{"![i]", "](", "<img", "<b>"} {
				if strings.Contains(said, bad) {
					t.Fatalf("of %q a hover says %q", hostile, h.Markdown)
				}
			}
			if strings.ContainsAny(said, "\x1b\u202e\u200b") {
				t.Fatalf("of %q a hover says %q", hostile, h.Markdown)
			}
		}
		if hovers == 0 {
			t.Errorf("of %q nothing is shown", hostile)
		}
		for _, d := range Diagnostics(v, lint.Hint) {
			if strings.ContainsAny(d.Message, "\x1b\u202e\u200b\n") {
				t.Errorf("of %q a diagnostic says %q", hostile, d.Message)
			}
		}
	}
}

// outsideOfCode is markdown without its fenced code and its escaped signs.
func outsideOfCode(markdown string) string {
	var out []string
	fence := ""
	for l := range strings.Lines(markdown) {
		l = strings.TrimRight(l, "\n")
		marks := l[:len(l)-len(strings.TrimLeft(l, "`"))]
		switch {
		case fence == "" && len(marks) >= 3:
			fence = marks
		case fence != "" && l == fence:
			fence = ""
		case fence == "":
			out = append(out, l)
		}
	}
	said := strings.Join(out, "\n")
	for _, sign := range []string{`\!`, `\[`, `\]`, `\<`, `\>`, `\*`, "\\`", `\\`} {
		said = strings.ReplaceAll(said, sign, "")
	}
	return said
}
