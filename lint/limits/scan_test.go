package limits

import (
	"math/rand/v2"
	"strconv"
	"testing"
)

// TestScan holds what a scan promises, whatever passes and what does not: the last value
// passes, the next one does not and is one step away, and a span of values that do not pass is
// found where it is as wide as a stride.
func TestScan(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 12))
	for range 500 {
		end := r.IntN(400)
		fails := make([]bool, end+2)
		for range r.IntN(4) { // spans that do not pass
			from, wide := r.IntN(end+2), 1+r.IntN(60)
			for n := from; n < min(from+wide, len(fails)); n++ {
				fails[n] = n > 0
			}
		}
		k := &Knob{
			Today:  Value{Text: "0"},
			value:  func(n int) Value { return Value{float64(n), strconv.Itoa(n)} },
			steps:  func(int) int { return end },
			stride: func(n int) int { return n / 10 },
		}
		judged := map[int]bool{}
		s := scan{knob: k, try: func(v Value) (bad, gone []Reason, err error) {
			n := int(v.SI)
			judged[n] = true
			if fails[n] {
				bad = []Reason{{Rule: "r"}}
			}
			if n > 50 {
				gone = []Reason{{Rule: "g"}}
			}
			return bad, gone, nil
		}}
		b, err := s.to(1)
		if err != nil {
			t.Fatal(err)
		}
		last, next := int(b.Last.SI), int(b.Next.SI)
		if b.Open {
			if last != end || fails[last] {
				t.Fatalf("open at %d of %d", last, end)
			}
		} else if fails[last] || !fails[next] || next != last+1 || len(b.Why) == 0 {
			t.Fatalf("it stops at %d before %d: %v", last, next, fails)
		}
		gap := 0
		for n := 1; n <= last; n++ {
			if gap++; judged[n] {
				if gap > b.Widest {
					t.Fatalf("%d values before %d were not looked at; the widest stride is said to be %d", gap, n, b.Widest)
				}
				gap = 0
			}
		}
		for wide, n := 0, 1; n < last; n++ {
			if wide++; !fails[n] {
				wide = 0
			}
			if wide >= max(b.Widest, 1) {
				t.Fatalf("a span of %d values that ends at %d does not pass, and the limit is said to be %d", wide, n, last)
			}
		}
		if s.clears != nil && (s.clears.SI <= 50 || fails[int(s.clears.SI)] || s.nearer != int(s.clears.SI)) {
			t.Fatalf("%v clears", s.clears)
		}
	}
}
