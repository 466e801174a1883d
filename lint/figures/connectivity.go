package figures

import (
	"ohmstead/schema"
)

// Output is one output of a supply.
type Output struct {
	Supply *schema.Supply
	Number int // counted from 1
}

// Connectivity says what hangs together on the plus side and on the minus side,
// whether or not lengths and sizes are known: a lead counts once its two ends
// are. The rails of a run join all its feeds.
type Connectivity struct {
	terminals
	plus, minus joins
	outputs     []Output
	byPlus      map[int][]Output
	byMinus     map[int][]*schema.Supply
}

// Connectivity follows the leads of the plan.
func (f *Figures) Connectivity() *Connectivity {
	f.connectOnce.Do(func() { f.connectivity = f.follow() })
	return f.connectivity
}

func (f *Figures) follow() *Connectivity {
	r := &Connectivity{terminals: make(terminals, len(f.Plan.Leads)), byPlus: map[int][]Output{}, byMinus: map[int][]*schema.Supply{}}
	for _, l := range f.Plan.Leads {
		if !l.From.Known() || !l.To.Known() || !l.Carries.Known() {
			continue
		}
		from, to := r.number(minusOf(l.From.V.Block())), r.number(minusOf(l.To.V.Block()))
		if l.Minus() {
			r.minus.join(from, to)
		}
		if l.Plus() {
			if l.From.V.Supply != nil {
				from = r.number(plusOf(l.From.V))
			}
			if l.To.V.Supply != nil {
				to = r.number(plusOf(l.To.V))
			}
			r.plus.join(from, to)
		}
	}
	r.plus.flatten(len(r.terminals))
	r.minus.flatten(len(r.terminals))
	for _, s := range f.Plan.Supplies {
		for n := range max(s.Outputs.V, 1) {
			o := Output{s, n + 1}
			r.outputs = append(r.outputs, o)
			if at, ok := r.terminals[o.terminal()]; ok {
				r.byPlus[r.plus[at]] = append(r.byPlus[r.plus[at]], o)
			}
		}
		if at, ok := r.terminals[minusOf(s)]; ok {
			r.byMinus[r.minus[at]] = append(r.byMinus[r.minus[at]], s)
		}
	}
	return r
}

// Touched reports whether a lead ends at the block.
func (r *Connectivity) Touched(b schema.Block) bool { _, ok := r.terminals[minusOf(b)]; return ok }

// Plus lists the outputs whose plus is joined with the plus of a run, joint or
// controller.
func (r *Connectivity) Plus(b schema.Block) []Output { return r.with(minusOf(b)) }

func (r *Connectivity) with(t terminal) []Output {
	at, ok := r.terminals[t]
	if !ok {
		return nil
	}
	return r.byPlus[r.plus[at]]
}

// Minus lists the supplies whose minus is joined with that of a run, joint or
// controller.
func (r *Connectivity) Minus(b schema.Block) []*schema.Supply {
	at, ok := r.terminals[minusOf(b)]
	if !ok {
		return nil
	}
	return r.byMinus[r.minus[at]]
}

// Tied lists the groups of outputs whose pluses are joined with each other.
func (r *Connectivity) Tied() [][]Output {
	var out [][]Output
	for _, o := range r.outputs {
		group := r.with(o.terminal())
		if len(group) > 1 && group[0] == o {
			out = append(out, group)
		}
	}
	return out
}

// Between lists the blocks whose plus is joined with an output's, in the order
// of the plan.
func (r *Connectivity) Between(o Output, blocks []schema.Block) []schema.Block {
	at, ok := r.terminals[o.terminal()]
	if !ok {
		return nil
	}
	var out []schema.Block
	for _, b := range blocks {
		if n, ok := r.terminals[minusOf(b)]; ok && r.plus[n] == r.plus[at] {
			out = append(out, b)
		}
	}
	return out
}
