package sizing_test

import (
	"strings"
	"testing"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func TestWireName(t *testing.T) {
	for _, x := range [][3]string{
		{"awg-12", "20 AWG", "awg-20"},
		{"awg_16", "14 AWG", "awg-14"},
		{"feed", "14 AWG", "feed-14AWG"},
		{"awg-12-feed", "14 AWG", "awg-12-feed-14AWG"},
		{"awg-12", "1.5 mm2", "awg-12-1-5mm2"},
	} {
		q, err := quantity.ParseFor(quantity.Gauge, x[1])
		if err != nil {
			t.Fatal(err)
		}
		if got := sizing.WireName(x[0], q); got != x[2] {
			t.Errorf("%s of %s is called %s, not %s", x[0], x[1], got, x[2])
		}
	}
}

// A draft names the runs, so that it says which one it cannot name.
func TestFirstNamesTheRun(t *testing.T) {
	text := "plan \"p\" { mains = \"230 V\" }\nstrip \"s\" { like = catalog.ws2812b_5v_60 }\nrun \"my run\" {\n  strip = strip.s\n  length = \"1 m\"\n}\n"
	plan := schema.Decode("p", []*source.File{source.Parse(source.NewText("p/plan.ohm.hcl", []byte(text)))}, nil)
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := sizing.First(fig); err == nil || !strings.Contains(err.Error(), `run "my run"`) || !strings.Contains(err.Error(), "rename the run") {
		t.Errorf("says %v", err)
	}
}
