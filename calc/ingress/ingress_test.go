package ingress

import "testing"

func TestKeeps(t *testing.T) {
	const (
		jets  = "IEC 60529, section 6: numerals up to 6 stand for the lower ones"
		under = "IEC 60529, section 6: 7 or 8 alone is unsuitable for the jets of 5 and 6"
	)
	for _, row := range []struct {
		classes string
		water   int
		keeps   bool
		known   bool
		source  string
	}{
		{"IP20", 0, true, true, jets},
		{"IP20", 2, false, true, jets},
		{"IP44", 4, true, true, jets},
		{"IP44", 5, false, true, jets},
		{"IP65", 4, true, true, jets},
		{"IP66", 5, true, true, jets},
		{"IP66", 7, false, true, jets},
		{"IP67", 4, true, true, under},
		{"IP67", 5, false, true, under},
		{"IP68", 6, false, true, under},
		{"IP67", 7, true, true, under},
		{"IP68", 7, true, true, under},
		{"IP67", 8, false, true, under},
		{"IP65/IP67", 5, true, true, under},
		{"IP65/IP67", 7, true, true, under},
		{"IP69K", 4, true, true, "the same, for numeral 9 (from memory)"},
		{"IP69K", 7, false, true, "the same, for numeral 9 (from memory)"},
		{"IP2X", 2, false, false, "IEC 60529, section 4: X is not specified"},
		{"IP2X/IP67", 7, true, true, "IEC 60529, section 4: X is not specified"},
		{"", 4, false, false, "nothing is said"},
	} {
		if row.source == "" {
			t.Errorf("%s: no source", row.classes)
		}
		if keeps, known := Keeps(row.classes, row.water); keeps != row.keeps || known != row.known {
			t.Errorf("Keeps(%q, %d) = %v, %v, want %v, %v (%s)", row.classes, row.water, keeps, known, row.keeps, row.known, row.source)
		}
	}
}
