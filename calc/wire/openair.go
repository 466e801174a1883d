package wire

// openAirRatings are the currents in A that single wires alone in open air are
// rated for, the most generous figures in use: Handbook of Electronic Tables
// and Formulas, chassis wiring; 8 AWG and thicker from memory.
var openAirRatings = []rating{
	{0, 245}, {2, 181}, {4, 135}, {6, 101}, {8, 73}, {10, 55}, {12, 41}, {14, 32}, {16, 22}, {18, 16}, {20, 11}, {22, 7}, {24, 3.5}, {26, 2.2}, {28, 1.4}, {30, 0.86},
}

// OpenAirAmpacity returns the current in A that a conductor is rated for where
// it hangs alone in open air. No installed wire may be taken to carry more. A
// size between two listed ones takes the figure of the thicker; ok is false
// for one thicker than 1/0 AWG.
func OpenAirAmpacity(g Gauge) (amps float64, ok bool) {
	for _, r := range openAirRatings {
		if g.Area() > AWG(int(r.size)).Area()*(1+closeArea) {
			return amps, ok
		}
		amps, ok = r.amps, true
	}
	return amps, ok
}
