package wire

import "fmt"

// groupings are the shares of its current that each pair keeps where several
// loaded pairs lie together in one jacket, conduit or bundle: the lower of
// IEC 60364-5-52 table B.52.17, bunched, by circuits, and NFPA 70 (NEC) table
// 310.15(C)(1), by loaded conductors, of which a pair has two.
var groupings = []struct {
	pairs    int // up to so many
	iec, nec float64
}{
	{1, 1, 1},
	{2, 0.80, 0.80},
	{3, 0.70, 0.80},
	{4, 0.65, 0.70},
	{5, 0.60, 0.50},
	{6, 0.57, 0.50},
	{7, 0.54, 0.50},
	{8, 0.52, 0.50},
	{9, 0.50, 0.50},
	{10, 0.45, 0.50},
	{12, 0.45, 0.45},
	{15, 0.41, 0.45},
	{16, 0.41, 0.40},
	{20, 0.38, 0.40},
}

// crowded is what is left for each of more than twenty pairs: the last figure
// of NFPA 70 table 310.15(C)(1), 41 conductors and more.
const crowded = 0.35

// GroupingFactor returns the share of its ampacity that each of several loaded
// pairs keeps where they lie together. One pair alone keeps all of it. Between
// the numbers of the IEC table the figure of the next larger one counts. It
// fails for fewer than one pair.
func GroupingFactor(pairs int) (float64, error) {
	if pairs < 1 {
		return 0, fmt.Errorf("wire: %d pairs lie together; there is at least 1", pairs)
	}
	for _, g := range groupings {
		if pairs <= g.pairs {
			return min(g.iec, g.nec), nil
		}
	}
	return crowded, nil
}
