package sheets

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ohmstead/lint/lists"
)

// steps are the texts of a sheet's steps by their heads.
func steps(d *Document, sheet string) map[string]string {
	out := map[string]string{}
	for _, s := range d.Sheets {
		for _, b := range s.Blocks {
			if x, ok := b.(Step); ok && s.Name == sheet {
				out[x.Head] = x.Text
			}
		}
	}
	return out
}

// columnOf is a column of a table of a sheet, by what stands in the first one.
func columnOf(t *testing.T, d *Document, table, key string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, s := range d.Sheets {
		for _, b := range s.Blocks {
			x, ok := b.(Table)
			if !ok || x.Name != table {
				continue
			}
			for i, c := range x.Columns {
				for _, r := range x.Rows {
					if c.Key == key {
						out[r.Cells[0].Text] = r.Cells[i].Text
					}
				}
			}
		}
	}
	if len(out) == 0 {
		t.Errorf("%s has no column %s", table, key)
	}
	return out
}

// A checklist of fuses leaves none out: the wall of 20 runs has 20 of 3 A, in four rows of five.
func TestFusesAreAllTold(t *testing.T) {
	d := made(t, demo(t, "matrix"), func(j *Job) { j.Only = []string{"commissioning"} })
	text := steps(d, "commissioning")[say("commission.fuses")]
	for _, want := range []string{"20 × 3 A", "low-out-1 … low-out-5", "low-back-1 … low-back-5", "high-out-1 … high-out-5", "high-back-1 … high-back-5"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	if strings.Contains(text, " more") {
		t.Error(text)
	}
	var names []string // none of which counts on from the one before
	for i := range 40 {
		names = append(names, fmt.Sprint("n", i*2, "x"))
	}
	if got := fuseText([]fuseGroup{{amps: "1 A", kind: "blade", leads: names}}); !strings.HasPrefix(got, "40 × 1 A") || strings.Count(got, "n")-strings.Count(got, "and") < 40 {
		t.Error(got)
	}
}

func TestSpans(t *testing.T) {
	got := lists.Spans([]string{"a1", "a2", "a3", "b", "c9", "c10", "d", "7", "8", "9", "a5"})
	if want := []string{"a1 … a3", "b", "c9", "c10", "d", "7 … 9", "a5"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// Pixels have one numbering on all sheets: that of their output, through all runs on it.
func TestIndexesOfPowerUp(t *testing.T) {
	d := made(t, demo(t, "bookcase"), func(j *Job) { j.Only = []string{"commissioning"} })
	got := columnOf(t, d, "power-up", "index")
	for run, want := range map[string]string{"Run shelf-1": "lower 0…53", "Run shelf-2": "lower 54…107", "Run shelf-4": "upper 0…53"} {
		if got[run] != want {
			t.Errorf("%s: %q, want %s", run, got[run], want)
		}
	}
}

// A supply of several outputs is as full as its fullest one, and the table says so.
func TestLoadOfTheFullestOutput(t *testing.T) {
	for plan, want := range map[string]string{"matrix": "summary.power.fullest", "bookcase": "summary.power.load"} {
		if got := made(t, demo(t, plan), nil); !slices.ContainsFunc(got.Sheets[0].Blocks, func(b Block) bool {
			x, ok := b.(Table)
			return ok && x.Columns[len(x.Columns)-1].Title == say(want)
		}) {
			t.Errorf("%s: no column %q", plan, say(want))
		}
	}
}
