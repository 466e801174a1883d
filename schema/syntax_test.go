package schema

import (
	"maps"
	"slices"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// The advice hangs on the parser's words: a new version of it that says them
// otherwise must not pass unseen.
func TestParserSaysWhatAdviceHangsOn(t *testing.T) {
	says := map[string]string{
		"Argument or block definition required":      "a {\n  = 1\n}\n",
		"Attribute redefined":                        "a {\n  x = 1\n  x = 2\n}\n",
		"Invalid block definition":                   "a b\n",
		"Invalid single-argument block definition":   "a { x = 1, y = 2 }\n",
		"Invalid expression":                         "x = \n",
		"Invalid multi-line string":                  "x = \"a\nb\"\n",
		"Unterminated template string":               "x = \"a",
		"Missing newline after argument":             "x = 1 2\n",
		"Missing newline after block definition":     "a {\n} b\n",
		"Unclosed configuration block":               "a {\n  x = 1\n",
		"Unterminated tuple constructor expression":  "x = [1",
		"Unterminated object constructor expression": "x = { a = 1",
		"Unterminated function call":                 "x = sum(1",
		"Missing item separator":                     "x = [1 2]\n",
		"Missing attribute value":                    "x = {\n  a\n}\n",
		"Missing attribute separator":                "x = { a = 1 b = 2 }\n",
		"Invalid character":                          "x = 'a'\n",
	}
	if got, want := slices.Sorted(maps.Keys(says)), slices.Sorted(maps.Keys(advice)); !slices.Equal(got, want) {
		t.Errorf("there are texts for %q, and advice for %q", got, want)
	}
	for summary, text := range says {
		_, diags := hclsyntax.ParseConfig([]byte(text), "", hcl.InitialPos)
		if !slices.ContainsFunc(diags, func(d *hcl.Diagnostic) bool { return d.Summary == summary }) {
			t.Errorf("%q does not give %q but %v", text, summary, diags)
		}
	}
}
