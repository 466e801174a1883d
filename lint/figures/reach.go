package figures

import (
	"ohmstead/schema"
)

// Output is one output of a supply.
type Output struct {
	Supply *schema.Supply
	Number int // counted from 1
}

// Reaches says what hangs together on the plus side and on the minus side,
// whether or not lengths and sizes are known: a lead counts once its two ends
// are. The rails of a run join all its feeds.
type Reaches struct {
	plus, minus *joins
	outputs     []Output
	byPlus      map[int][]Output
	byMinus     map[int][]*schema.Supply
	touched     map[*schema.Header]bool
}

// Reaches follows the leads of the plan.
func (f *Figures) Reaches() *Reaches {
	f.reachesOnce.Do(func() { f.reaches = f.follow() })
	return f.reaches
}

func (f *Figures) follow() *Reaches {
	r := &Reaches{plus: newJoins(), minus: newJoins(), byPlus: map[int][]Output{}, byMinus: map[int][]*schema.Supply{}, touched: map[*schema.Header]bool{}}
	for _, l := range f.Plan.Leads {
		if !l.From.Known() || !l.To.Known() || l.From.V == nil || l.To.V == nil || !l.Carries.Known() {
			continue
		}
		from, to := minusOf(l.From.V.Block()), minusOf(l.To.V.Block())
		r.touched[from.block], r.touched[to.block] = true, true
		if l.Plus() {
			r.plus.join(plusOf(l.From.V), plusOf(l.To.V))
		}
		if l.Minus() {
			r.minus.join(from, to)
		}
	}
	r.plus.settle()
	r.minus.settle()
	for _, s := range f.Plan.Supplies {
		for n := range max(s.Outputs.V, 1) {
			o := Output{s, n + 1}
			r.outputs = append(r.outputs, o)
			if root, ok := r.plus.find(o.terminal()); ok {
				r.byPlus[root] = append(r.byPlus[root], o)
			}
		}
		if root, ok := r.minus.find(minusOf(s)); ok {
			r.byMinus[root] = append(r.byMinus[root], s)
		}
	}
	return r
}

// Touched reports whether a lead ends at the block.
func (r *Reaches) Touched(b schema.Block) bool { return r.touched[schema.HeaderOf(b)] }

// Plus lists the outputs whose plus is joined with the plus of a run, joint or
// controller.
func (r *Reaches) Plus(b schema.Block) []Output { return r.with(minusOf(b)) }

func (r *Reaches) with(t terminal) []Output {
	root, ok := r.plus.find(t)
	if !ok {
		return nil
	}
	return r.byPlus[root]
}

// Minus lists the supplies whose minus is joined with that of a run, joint or
// controller.
func (r *Reaches) Minus(b schema.Block) []*schema.Supply {
	root, ok := r.minus.find(minusOf(b))
	if !ok {
		return nil
	}
	return r.byMinus[root]
}

// Tied lists the groups of outputs whose pluses are joined with each other.
func (r *Reaches) Tied() [][]Output {
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
func (r *Reaches) Between(o Output, blocks []schema.Block) []schema.Block {
	root, ok := r.plus.find(o.terminal())
	if !ok {
		return nil
	}
	var out []schema.Block
	for _, b := range blocks {
		if of, ok := r.plus.find(minusOf(b)); ok && of == root {
			out = append(out, b)
		}
	}
	return out
}
