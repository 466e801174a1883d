package main

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"ohmstead/calc/thorough"
	"ohmstead/lint/lists"
)

// callsOf says for every command how it is called on a plan, with another
// version of it beside it. A new command belongs here, or the test says so.
var callsOf = map[string]func(plan, before, out string) [][]string{
	"check": func(plan, _, out string) [][]string {
		var calls [][]string
		for _, f := range forms {
			calls = append(calls, []string{"check", plan, "--format", f, "--fail-on", "never"}, []string{"check", plan, "--format", f + ":" + filepath.Join(out, f)})
		}
		return append(calls, []string{"check", plan, "--statistics"}, []string{"check", plan, "--write-baseline", "--baseline", filepath.Join(out, "known")})
	},
	"fix":  func(plan, _, _ string) [][]string { return [][]string{{"fix", plan, "--diff"}} },
	"size": func(plan, _, _ string) [][]string { return [][]string{{"size", plan, "--only", "fuses", "--choices"}} },
	"fmt":  func(plan, _, _ string) [][]string { return [][]string{{"fmt", "--check", plan}} },
	"show": func(plan, _, _ string) [][]string {
		return [][]string{{"show", plan}, {"show", plan, "--format", "json"}, {"show", plan, "--limits", "--at", "supply.s"}, {"show", plan, "--limits", "--at", "run.x\x1b[31mx"}}
	},
	"locate": func(plan, _, _ string) [][]string {
		return [][]string{{"locate", plan}, {"locate", plan, "--at", "run.x\x1b[31mx", "--volts", "\x1b[31m4 V"}, {"locate", plan, "--at", "run.x.end\n}", "--case", "x"}}
	},
	"list": func(plan, _, _ string) [][]string {
		var calls [][]string
		for _, l := range lists.All {
			for _, f := range listForms {
				calls = append(calls, []string{"list", l.Name, plan, "--format", f})
			}
		}
		return calls
	},
	"view":    func(plan, _, _ string) [][]string { return [][]string{{"view", plan + "\x1b[31mx"}} },
	"explain": func(plan, _, _ string) [][]string { return [][]string{{"explain"}, {"explain", plan + "\x1b[31mx"}} },
	"catalog": func(plan, _, _ string) [][]string { return [][]string{{"catalog"}, {"catalog", plan + "\x1b[31mx"}} },
	"new": func(plan, _, out string) [][]string {
		return [][]string{{"new", "\x1b[31mx\n::error::y"}, {"new", filepath.Join(out, "next"), "--from", filepath.Join(plan, "drawing.svg"), "--scale", "1 mm"}}
	},
	"compare": func(plan, before, out string) [][]string {
		var calls [][]string
		for _, f := range compareForms {
			calls = append(calls, []string{"compare", before, plan, "--format", f, "--fail-on", "never"}, []string{"compare", plan, before, "--format", f, "--fail-on", "never"})
		}
		return calls
	},
	"resolve": func(plan, _, _ string) [][]string { return [][]string{{"resolve", plan}, {"resolve", plan, "run.r"}} },
	"sheets": func(plan, _, out string) [][]string {
		return [][]string{{"sheets", plan, "-o", filepath.Join(out, "paper"), "--only", "summary"}}
	},
	"lsp":     func(_, _, _ string) [][]string { return [][]string{{"lsp", "\x1b[31mx"}} },
	"version": func(_, _, _ string) [][]string { return [][]string{{"version"}, {"version", "\x1b[31mx\n::error::y"}} },
}

// allCalls are the calls of every command.
func allCalls(t *testing.T, plan, before, out string) (calls [][]string) {
	t.Helper()
	for _, c := range newRoot().Commands() {
		of, ok := callsOf[c.Name()]
		if !ok {
			t.Errorf("the command %s has no call in callsOf", c.Name())
			continue
		}
		calls = append(calls, of(plan, before, out)...)
	}
	return calls
}

// hostileTexts steer terminals, turn the direction of writing, hide, break
// lines, or are markup where something reads it.
var hostileTexts = []string{
	"\x1b[2J\x1b]0;title\x07", "\u009b31m\u009d0;t\u009c", "\u202egnp.exe\u202c \u2066x\u2069", "a\u200bb\u200d\u2060c\ufeff\u00ad",
	"one\ntwo\r\nthree\rfour", "x\n::error file=a::y", "x\n##[error]y", "<script>alert(1)</script><img src=x onerror=alert(1)>", "![i](http://example.invalid/i.png) [l](javascript:x)",
	"@everyone `code` | cell | **b**", "]]>&amp;<!--", "\u2028line\u2029", "\x7f\x00\x08", "%0A::error::z", "=1+1", "{{.}} ${x} %s %d %!v",
}

// hostilePlan says a text wherever a plan takes text.
func hostilePlan(text string, length string) string {
	q := func(s string) string { // as HCL quotes it
		var b strings.Builder
		for _, r := range s {
			switch {
			case r == '"', r == '\\':
				b.WriteString(`\` + string(r))
			case r == '\n':
				b.WriteString(`\n`)
			case r < 0x20 || unicode.IsControl(r):
				fmt.Fprintf(&b, `\u%04x`, r)
			default:
				b.WriteRune(r)
			}
		}
		return `"` + strings.NewReplacer("${", "$${", "%{", "%%{").Replace(b.String()) + `"`
	}
	line := strings.NewReplacer("\n", " ", "\r", " ", "\x00", " ").Replace(text)
	return fmt.Sprintf(`plan %[1]s {
  title = %[1]s
  note  = %[1]s
  mains = "230 V"
  site  = %[1]s
}
# ohmstead: allow no-feed because %[2]s
strip "s" {
  like   = catalog.ws2812b_5v_60
  source = %[1]s
  note   = %[1]s
}
wire "w" {
  gauge  = "24 AWG"
  source = %[1]s
}
supply "b" {
  output = "5 V"
  rating = "30 A"
  note   = %[1]s
  source = %[1]s
}
surface %[1]s {
  width  = "3 m"
  height = "2 m"
}
controller "c" {
  board   = catalog.esp32_devkit
  ceiling = "2 A"
  note    = %[1]s
  port %[1]s { pin = 4 }
}
case %[1]s {
  color = %[1]s
  level = "50 %%"
}
run %[1]s {
  strip  = strip.s
  length = %[3]q
  shape  = %[1]s
}
run "r" {
  strip  = strip.s
  length = %[3]q
}
lead "l" {
  from   = supply.b.out
  to     = run.r.start
  wire   = wire.w
  length = "6 m"
}
lead %[1]s {
  from   = supply[%[1]s].out
  to     = run[%[1]s].start
  wire   = wire.w
  length = %[1]s
}
signal "r" {
  from = controller.c.port[%[1]s]
  to   = run.r.start
  wire = wire.w
}
order %[1]s { runs = [run.r] }
nothing %[1]s {}
let { x = %[1]s }
`, q(text), line, length)
}

// hostileDrawing says a text wherever a drawing takes text.
func hostileDrawing(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a builder takes everything
	return strings.ReplaceAll(`<svg><path id="X" d="M0 0H100"/><path id="X" d="X"/><g id="X" transform="X"/><use id="X" href="X"/><text>X</text><rect x="X"/><style>X{</style>
<path title="X" d="M0 0H90V9"><title>X</title></path><g id="keepout"><rect id="X" width="9" height="9"/></g></svg>`, "X", b.String())
}

// Whatever a plan says, nothing that a command writes steers the terminal or
// the page that it is read on.
func TestNothingLeaks(t *testing.T) {
	for i, text := range hostileTexts {
		if i%thorough.Or(1, 8) != 0 {
			continue
		}
		t.Run(strconv.Itoa(i), func(t *testing.T) {
			dir := t.TempDir()
			name := strings.NewReplacer("/", "_", "\x00", "_").Replace(text)
			plan, before, out := filepath.Join(dir, name), filepath.Join(dir, "before", name), filepath.Join(dir, "out")
			for _, d := range []struct{ dir, length string }{{plan, "3 m"}, {before, "2 m"}} {
				if err := os.MkdirAll(d.dir, 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(filepath.Join(d.dir, "plan.ohm.hcl"), []byte(hostilePlan(text, d.length)), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if err := os.Mkdir(out, 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(plan, "drawing.svg"), []byte(hostileDrawing(text)), 0o644); err != nil {
				t.Fatal(err)
			}
			for _, args := range allCalls(t, plan, before, out) {
				var o, e strings.Builder
				if code := run(args, strings.NewReader(""), &o, &e); code > 2 || strings.Contains(e.String(), "mistake in it") {
					t.Errorf("%q ends with %d: %s", args, code, e.String())
				}
				form := "text"
				if k := slices.Index(args, "--format"); k >= 0 {
					form = args[k+1]
				} else if slices.Contains(args, "--diff") {
					form = "diff"
				}
				leaks(t, args, form, o.String())
				leaks(t, args, "text", e.String())
			}
			for _, f := range forms {
				if data, err := os.ReadFile(filepath.Join(out, f)); err == nil {
					leaks(t, []string{"--format", f + ":FILE"}, f, string(data))
				}
			}
		})
	}
}

// code is text in markdown that is shown as it is, and signs that are escaped.
var code = regexp.MustCompile("`+[^`\n]*`+|\\\\.")

// command is a line that a forge's runner takes for an order to itself.
var command = regexp.MustCompile(`(?m)^\s*(::|##\[)`)

// leaks says what in an output would do something where it is read.
func leaks(t *testing.T, args []string, form, out string) {
	t.Helper()
	for i, r := range out {
		steers := r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && r != '\u00ad' || r == '\u2028' || r == '\u2029'
		if form == "markdown" && r == '\u200b' || form == "csv" && r == '\r' || form == "diff" {
			continue // takes the meaning of @name; ends a line after RFC 4180; is the file's own text
		}
		if steers {
			t.Errorf("%q: %U in %q", args, r, out[max(i-60, 0):min(i+20, len(out))])
			return
		}
	}
	switch form {
	case "text", "csv":
		if at := command.FindStringIndex(out); at != nil && form == "text" {
			t.Errorf("%q: an order to a runner: %q", args, out[max(at[0]-60, 0):min(at[1]+30, len(out))])
		}
	case "github":
		for l := range strings.Lines(out) {
			if strings.HasPrefix(l, "::") && !strings.HasPrefix(l, "::error ") && !strings.HasPrefix(l, "::warning ") && !strings.HasPrefix(l, "::notice ") {
				t.Errorf("%q: %q", args, l)
			}
		}
	case "json", "sarif", "gitlab":
		if out != "" && !json.Valid([]byte(out)) {
			t.Errorf("%q: not JSON: %.200q", args, out)
		}
	case "junit":
		d := xml.NewDecoder(strings.NewReader(out))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Errorf("%q: not XML: %v", args, err)
				break
			}
		}
	case "html", "markdown":
		bad := []string{"<script>alert", "<img src=x"}
		if form == "markdown" {
			bad, out = append(bad, "![i](", "](javascript", "@everyone"), code.ReplaceAllString(out, "")
		}
		for _, b := range bad {
			if strings.Contains(out, b) {
				t.Errorf("%q: %s stands in it", args, b)
			}
		}
	}
}
