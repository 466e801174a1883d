package ide

import (
	"fmt"
	"strings"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// With as many cases as a picture shows, a hover stays below 20 kB; a name that
// would make it longer leaves the line of text.
func TestPicturesAreShort(t *testing.T) {
	plan := func(name string) *View {
		text := fmt.Sprintf(`plan "p" {}
wire "w" { gauge = "18 AWG" }
supply "s" {
  output = "12 V"
  rating = "30 A"
}
run %q {
  strip  = catalog.ws2815_12v_60
  length = "10 m"
}
lead "l" {
  from   = supply.s.out
  to     = run.%s["3 m"]
  wire   = wire.w
  length = "2 m"
}
`, name, name)
		for i, c := range []string{"ff8000", "ff0000", "00ff00", "80ff00", "ffffff", "000000"} {
			text += fmt.Sprintf("case \"c%d\" {\n  color = \"#%s\"\n  level = \"%d %%\"\n}\n", i, c, 20+10*i)
		}
		f := source.Parse(source.NewText("p/p.ohm.hcl", []byte(text)))
		p := schema.Decode("p", []*source.File{f}, nil)
		return &View{Plan: p, Figures: worked(p), Rules: testRules, File: f, Pictures: true}
	}
	for _, c := range []struct {
		name    string
		picture bool
	}{{"long", true}, {strings.Repeat("x", 10_000), false}} {
		v := plan(c.name)
		h, ok := HoverAt(v, strings.Index(v.File.Text.String(), "run \"")+1, schema.Full)
		if !ok || strings.Contains(h.Markdown, "data:image/svg+xml") != c.picture || strings.Contains(h.Markdown, "along the run: `") == c.picture {
			t.Errorf("%.20s: picture %v: %.300s", c.name, c.picture, h.Markdown)
		}
		if c.picture && len(h.Markdown) > 20_000 {
			t.Errorf("a hover of %d bytes", len(h.Markdown))
		}
	}
}
