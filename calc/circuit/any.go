package circuit

import (
	"fmt"
	"slices"
)

// Budget is a ceiling over the strips that one controller drives: the sum over their pixels of
// (current - idle) may not exceed Amps. Amps is +Inf where there is no ceiling.
type Budget struct {
	Amps   float64
	Strips []int
}

// Bound holds extremes over all patterns that the budgets allow.
type Bound struct {
	Wires     []float64 // greatest |A| of each wire
	WireLit   [][]int   // strips that the pattern behind it lights
	Sources   []float64 // greatest |A| of each source
	SourceLit [][]int
	Strips    []StripBound
	Spill     []float64 // A of each of Wires that warmth elsewhere may add, see warm.go; the rest is that of cold copper

	network *Network // as it is when cold
	given   *Network
	budgets []Budget
}

// StripBound is the least voltage that a pixel of a strip may see. Where the wiring is far too thin it
// comes out below 0, as the pixels are reckoned to draw their full current whatever is left.
type StripBound struct {
	Powered  bool
	MinVolts float64
	MinPixel int
	Lit      []int // strips that the pattern behind it lights

	RailAmps float64 // greatest in either rail, also of a strip without power
	RailAt   float64 // where it flows, m from the start
	RailLit  []int
	Spill    float64 // A of RailAmps, as that of Bound

	rail railPlace
}

// UnboundedError reports a strip, or a sink, that alone joins two parts of a network which other loads
// join as well, as two supplies in series do. Without its law nothing says how they share the voltage.
type UnboundedError struct {
	Load string // such as "Strips[2]"
}

func (e *UnboundedError) Error() string {
	return fmt.Sprintf("circuit: nothing but loads joins the two sides of %s, so no bound can be given; join them with a lead", e.Load)
}

// Any bounds what any pattern within the budgets can do: the greatest current of each wire,
// source and rail, and the least voltage of each strip. Each pixel is a current sink anywhere between its
// idle current and its full one (all channels at 1); sinks draw what they need; the network is
// then linear. Each quantity q is a sum of transfer factors times pixel currents, and the greatest
// is a fractional knapsack: fill the pixels in falling order of their factor until the budget is
// spent (G. B. Dantzig, "Discrete-variable extremum problems", Operations Research 5, 1957; from
// memory). The factors come from one solution of the network for each quantity, by reciprocity, as far
// as the quantity reaches (see adjoint): the cost grows with the feeds times how many of them feel each other. The
// bounds are those of the linear network to 1e-9 A and V.
//
// Where all pixels get the voltage for their full current, a pattern reaches the bound (see
// WirePattern). Where some are starved they draw less than is reckoned with here, and the bound
// lies on the safe side of what happens.
//
// A strip in no budget is unlimited. Errors are those of Prepare, an *InputError for a budget out
// of range, and an *UnboundedError.
func Any(c *Circuit, budgets []Budget) (*Bound, error) {
	n, err := Prepare(c)
	if err != nil {
		return nil, err
	}
	return n.Any(budgets)
}

// Any is as the function Any, on a network made ready, which keeps all that does not hang on the budgets.
func (n *Network) Any(budgets []Budget) (*Bound, error) {
	b := &Bound{
		Wires:     make([]float64, len(n.c.Wires)),
		WireLit:   make([][]int, len(n.c.Wires)),
		Sources:   make([]float64, len(n.c.Sources)),
		SourceLit: make([][]int, len(n.c.Sources)),
		Strips:    make([]StripBound, len(n.c.Strips)),
		Spill:     make([]float64, len(n.c.Wires)),
		given:     n,
		network:   n,
		budgets:   budgets,
	}
	if n.warm() {
		b.network = n.cold()
	}
	d, err := newBounder(b.network, budgets)
	if err != nil {
		return nil, err
	}
	defer d.release()
	pushes, both := make([][]pushed, len(n.c.Wires)), map[int]directions{}
	for w := range n.c.Wires {
		f := d.wire(w)
		if f == nil {
			continue
		}
		idle := d.idle.WireAmps[w]
		amps, sign := f.greatest(idle)
		b.Wires[w], b.WireLit[w] = amps, f.lit(sign)
		if f.ringed != nil {
			pushes[w] = slices.Clone(f.pushes)
			up, down := f.fill(1), f.fill(-1)
			both[w] = directions{[2]float64{idle + up, down - idle}, [2]bool{up > rounding*(up+down), down > rounding*(up+down)}}
		}
	}
	b.warmRings(d, pushes)
	for s := range n.c.Sources {
		f := d.source(s)
		amps, sign := f.greatest(d.idle.SourceAmps[s])
		b.Sources[s] = amps + f.spill(-1)
		b.SourceLit[s] = f.lit(sign)
	}
	hot := d
	if b.network != n {
		if hot, err = newBounder(b.hot(), budgets); err != nil {
			return nil, err
		}
		defer hot.release()
	}
	for s := range n.c.Strips {
		if b.Strips[s] = hot.lowest(s); b.Strips[s].Powered {
			b.Strips[s].MinVolts -= b.turned(&d.fields[d.home[s]], both)
		}
	}
	d.rails(b.Strips)
	return b, nil
}

// WirePattern returns a pattern that takes wire w to its bound, nil for a wire without power.
func (b *Bound) WirePattern(w int) Drive {
	d := b.again()
	defer d.release()
	f := d.wire(w)
	if f == nil {
		return nil
	}
	_, sign := f.greatest(d.idle.WireAmps[w])
	return d.pattern(f, sign)
}

// SourcePattern returns a pattern that takes source s to its bound.
func (b *Bound) SourcePattern(s int) Drive {
	d := b.again()
	defer d.release()
	f := d.source(s)
	_, sign := f.greatest(d.idle.SourceAmps[s])
	return d.pattern(f, sign)
}

// StripPattern returns a pattern that takes the worst pixel of strip s to its bound, nil for a strip
// without power.
func (b *Bound) StripPattern(s int) Drive {
	if !b.Strips[s].Powered {
		return nil
	}
	d := b.bounder(b.hot())
	defer d.release()
	return d.pattern(d.pixel(s, b.Strips[s].MinPixel), 1)
}

// RailPattern returns a pattern that takes a rail of strip s to its bound, nil where no current can
// flow in it.
func (b *Bound) RailPattern(s int) Drive {
	if b.Strips[s].RailAmps == 0 {
		return nil
	}
	d := b.again()
	defer d.release()
	place := b.Strips[s].rail
	d.rail(place)
	return d.pattern(&d.fields[place.island], place.sign)
}

// hot is the network with each wire as warm as it may get. It is not kept, as few ask for it again.
func (b *Bound) hot() *Network {
	if b.network == b.given {
		return b.given
	}
	return b.given.frozen(b.Wires)
}

// again returns the bounder of currents.
func (b *Bound) again() *bounder { return b.bounder(b.network) }

// bounder returns that of a network, which has only working room that the bound does not keep.
func (b *Bound) bounder(n *Network) *bounder {
	d, err := newBounder(n, b.budgets)
	if err != nil {
		panic(err) // it has worked before
	}
	for i := range d.islands {
		d.fields[i].most = b.Wires
	}
	return d
}

func checkBudgets(c *Circuit, budgets []Budget) error {
	in := make(map[int]int)
	for i, b := range budgets {
		if !(b.Amps >= 0) {
			return &InputError{fmt.Sprintf("Budgets[%d].Amps", i), b.Amps, "at least 0 A"}
		}
		for k, s := range b.Strips {
			wrong := func(format string, n int) error {
				return &InputError{fmt.Sprintf("Budgets[%d].Strips[%d]", i, k), float64(s), fmt.Sprintf(format, n)}
			}
			if s < 0 || s >= len(c.Strips) {
				return wrong("a strip between 0 and %d", len(c.Strips)-1)
			}
			if other, ok := in[s]; ok {
				return wrong("in one budget only; it is in Budgets[%d] already", other)
			}
			in[s] = i
		}
	}
	return nil
}
