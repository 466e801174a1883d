package schema

import (
	"slices"
	"strings"
	"testing"
)

// What the decoder says of one mistake: the rule and how its message begins. A
// text without a mistake says nothing.
func TestSaid(t *testing.T) {
	const parts = `plan "p" {}

controller "c" {
  board = catalog.esp32_devkit
  port "a" { pin = 4 }
}
wire "w" { gauge = "16 AWG" }
supply "s" {
  output = "5 V"
  rating = "5 A"
}
strip "s" { like = catalog.ws2812b_5v_60 }
run "r" {
  strip  = strip.s
  length = "1 m"
}
`
	lead := func(from, to string) string {
		return "lead \"l\" {\n  from   = " + from + "\n  to     = " + to + "\n  wire   = wire.w\n  length = \"1 m\"\n}\n"
	}
	signal := func(from, to string) string {
		return "signal \"d\" {\n  from = " + from + "\n  to   = " + to + "\n  wire = wire.w\n}\n"
	}
	for _, c := range []struct{ name, text, want string }{
		{"a lead to a controller's power", lead("supply.s.out", "controller.c.power"), ""},
		{"a lead to a controller's port", lead("supply.s.out", "controller.c.port.a"), "reference-kind: controller.c.port.a is not a place"},
		{"a lead to a controller", lead("supply.s.out", "controller.c"), "reference-kind: controller.c is not a place"},
		{"a lead to a controller's pixel", lead("supply.s.out", "controller.c.pixel"), "reference-kind: controller.c.pixel is not a place"},
		{"a signal from a port", signal("controller.c.port.a", "run.r.start"), ""},
		{"a signal from power", signal("controller.c.power", "run.r.start"), "reference-kind: controller.c.power is not a place"},
		{"a signal from no port", signal("controller.c.port.b", "run.r.start"), "reference-unknown: "},
		{"a path without steps", "run \"p\" {\n  strip = strip.s\n  path {}\n}\n", "block-shape: a path without steps"},
		{"a block as an attribute", "run \"p\" {\n  strip = strip.s\n  path = 5\n}\n", "block-shape: path is a block; write path { … } without \"=\""},
		{"a port as an attribute", "controller \"d\" { port = 5 }\n", "block-shape: port is a block; write port \"NAME\" { … } without \"=\""},
		{"two paths", "run \"p\" {\n  strip = strip.s\n  path {\n    line { length = \"1 m\" }\n  }\n  path {\n    line { length = \"1 m\" }\n  }\n}\n", "name-duplicate: a second path in run"},
		{"two ports of a name", "controller \"d\" {\n  port \"a\" { pin = 4 }\n  port \"a\" { pin = 5 }\n}\n", "name-duplicate: a second port \"a\" in controller"},
		{"two runs of a name", "run \"r\" {\n  strip  = strip.s\n  length = \"1 m\"\n}\n", "name-duplicate: a second run \"r\""},
		{"a name of another type", "run \"w\" {\n  strip  = strip.s\n  length = \"1 m\"\n}\n", ""},
		{"minus", "wire \"n\" {\n  gauge = \"16 AWG\"\n  cores = -\"3\"\n}\n", "value-kind: "},
		{"parentheses", "wire \"n\" {\n  gauge = (\"16 AWG\")\n}\n", ""},
		{"two currencies", "wire \"n\" {\n  gauge = \"16 AWG\"\n  price = sum(\"3 EUR\", \"2 USD\")\n}\n", "dimension-mismatch: 3 EUR and 2 USD are prices in two currencies"},
		{"one currency", "wire \"n\" {\n  gauge = \"16 AWG\"\n  price = sum(\"3 EUR\", \"2 EUR\")\n}\n", ""},
		{"watts for amperes", "supply \"n\" {\n  output = \"5 V\"\n  rating = \"50 W\"\n}\n", "dimension-mismatch: "},
		{"no such unit", "supply \"n\" {\n  output = \"5 V\"\n  rating = \"5 ma\"\n}\n", "unit-unknown: "},
		{"as many copies as may be", "joint \"n\" { times = 1000 }\n", ""},
		{"more copies", "joint \"n\" { times = 1001 }\n", "value-range: times is 1001; it takes at least 1 and at most 1000"},
		{"no copies", "joint \"n\" { times = 0 }\n", "value-range: times is 0; it takes at least 1 and at most 1000"},
		{"no output known", "supply \"n\" {\n  rating = \"5 A\"\n  limited = true\n}\n", "attribute-missing: "},
	} {
		got := messages(decode(t, parts+c.text))
		if c.want == "" && len(got) > 0 || c.want != "" && !slices.ContainsFunc(got, func(m string) bool { return strings.HasPrefix(m, c.want) }) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Why a stock path is not one: what may be read lies below the workspace.
func TestStockPath(t *testing.T) {
	for written, want := range map[string]string{
		"../workshop":         "",
		"c":                   "",
		"":                    "is empty",
		" ":                   "is empty",
		"https://example.org": "is a network address",
		"/etc":                "is not a relative path",
		`..\workshop`:         "is not a relative path",
		"c:/parts":            "is not a relative path",
		":":                   "",
		"a\x00b":              "holds a zero byte",
	} {
		target, why := stockPath("hall", written)
		if !strings.HasPrefix(why, want) || want == "" && why != "" || why == "" && target == "" {
			t.Errorf("%q: %q, %q; want %q", written, target, why, want)
		}
	}
}
