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
	plus, minus *groups
	outputs     []Output
	touched     map[string]bool
	byPlus      map[string][]Output
	byMinus     map[string][]*schema.Supply
}

// Reaches follows the leads of the plan.
func (f *Figures) Reaches() *Reaches {
	f.reachesOnce.Do(func() { f.reaches = f.follow() })
	return f.reaches
}

func (f *Figures) follow() *Reaches {
	r := &Reaches{plus: newGroups(), minus: newGroups(), touched: map[string]bool{}, byPlus: map[string][]Output{}, byMinus: map[string][]*schema.Supply{}}
	for _, s := range f.Plan.Supplies {
		for n := range max(s.Outputs.V, 1) {
			r.outputs = append(r.outputs, Output{s, n + 1})
		}
	}
	for _, l := range f.Plan.Leads {
		if !l.From.Known() || !l.To.Known() || l.From.V == nil || l.To.V == nil || !l.Carries.Known() {
			continue
		}
		if l.Plus() {
			r.plus.join(plusKey(l.From.V), plusKey(l.To.V))
		}
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			r.touched[schema.HeaderOf(pt.Block()).ID()] = true
		}
		if l.Minus() {
			r.minus.join(schema.HeaderOf(l.From.V.Block()).ID(), schema.HeaderOf(l.To.V.Block()).ID())
		}
	}
	r.plus.settle()
	r.minus.settle()
	r.gather()
	return r
}

// plusKey names the plus node of a place: each output of a supply has its own.
func plusKey(pt *schema.Point) string {
	if pt.Supply != nil {
		return outputKey(pt.Supply, pt.Output)
	}
	return schema.HeaderOf(pt.Block()).ID()
}

// Touched reports whether a lead ends at the block.
func (r *Reaches) Touched(id string) bool { return r.touched[id] }

// Plus lists the outputs whose plus is joined with the plus of a run, joint or
// controller.
func (r *Reaches) Plus(id string) []Output {
	if !r.plus.has(id) {
		return nil
	}
	return r.byPlus[r.plus.root(id)]
}

// Minus lists the supplies whose minus is joined with that of a run, joint or
// controller.
func (r *Reaches) Minus(id string) []*schema.Supply {
	if !r.minus.has(id) {
		return nil
	}
	return r.byMinus[r.minus.root(id)]
}

// gather groups the outputs by what they are joined with.
func (r *Reaches) gather() {
	for _, o := range r.outputs {
		if key := outputKey(o.Supply, o.Number); r.plus.has(key) {
			root := r.plus.root(key)
			r.byPlus[root] = append(r.byPlus[root], o)
		}
		if id := o.Supply.ID(); o.Number == 1 && r.minus.has(id) {
			root := r.minus.root(id)
			r.byMinus[root] = append(r.byMinus[root], o.Supply)
		}
	}
}

// Tied lists the groups of outputs whose pluses are joined with each other.
func (r *Reaches) Tied() [][]Output {
	var out [][]Output
	for _, o := range r.outputs {
		group := r.Plus(outputKey(o.Supply, o.Number))
		if len(group) > 1 && group[0] == o {
			out = append(out, group)
		}
	}
	return out
}

// Between lists the blocks whose plus is joined with an output's, in the order
// of the plan.
func (r *Reaches) Between(o Output, blocks []schema.Block) []schema.Block {
	var out []schema.Block
	for _, b := range blocks {
		if r.plus.joined(schema.HeaderOf(b).ID(), outputKey(o.Supply, o.Number)) {
			out = append(out, b)
		}
	}
	return out
}

func (g *groups) joined(a, b string) bool {
	return g.has(a) && g.has(b) && g.root(a) == g.root(b)
}
