// Package cutting plans which piece is cut from which reel or bar, so that the
// fewest new ones are bought.
package cutting

// MaxPieces is the most pieces that one plan may hold.
const MaxPieces = 10_000

// Job is what is to be cut, all in metres.
type Job struct {
	Pieces    []float64 // to cut
	Reel      float64   // length of each new reel or bar
	Kerf      float64   // lost at each cut: 0 with a knife, 2-3 mm with a saw
	Leftovers []float64 // lengths in hand, used before a new reel is
}

// Bar is one reel, bar or leftover and what is cut from it.
type Bar struct {
	Leftover int     // index into Job.Leftovers; -1 for a new reel
	Length   float64 // m
	Pieces   []int   // indexes into Job.Pieces, longest first
	Offcut   float64 // m that remains after the last cut
}

// Plan says where each piece comes from.
type Plan struct {
	Bars     []Bar   // leftovers first, then new reels; only those that are cut
	NewReels int     // to buy
	Least    int     // no plan needs fewer new reels than this
	Optimal  bool    // it is proven that no plan needs fewer than NewReels
	Waste    float64 // m lost to kerfs and offcuts of the bars in the plan
}

// Solve plans the cuts. The same job always gives the same plan.
func Solve(job Job) (Plan, error) { return Plan{}, nil }
