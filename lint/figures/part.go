package figures

import (
	"context"
	"slices"

	"ohmstead/calc/circuit"
	"ohmstead/schema"
)

// part is a part of an island's network: what depends on nothing outside of it.
// Parts of equal content share what is worked out.
type part struct {
	*circuit.Part
	drives    []circuit.Drive // by Figures.Cases index
	contents  []content       // with each of these
	budgets   []circuit.Budget
	ceilings  []int // of each of these: which of the plan's it is
	network   *kept[*circuit.Network]
	solutions []*kept[*circuit.Solution] // by Figures.Cases index
	former    former                     // of the part before the edit; empty where it is not known
	bound     *kept[*circuit.Bound]
	factors   *kept[[]*circuit.Factors] // by source: of its current
	loose     *kept[*circuit.Loose]     // nil where nothing can come loose and leave another way
}

// divide splits the island's circuit into its parts and spreads the ceilings over them, from how that was
// before the edit.
func (is *Island) divide(memo *Memo, ceilings []ceiling) (*cut, error) {
	name := is.Leads[0].ID()
	was := memo.cuts.find(name)
	if was == nil {
		was = &cut{}
	}
	split, err := is.Circuit.SplitFrom(was.split)
	if err != nil {
		return nil, err
	}
	parts := len(split.Parts)
	now := &cut{split: split, contents: make([]content, parts), held: make([]int, len(is.Runs)), budgets: make([]spent, parts)}
	at := make(map[*schema.Controller]int, len(ceilings))
	for i, c := range ceilings {
		now.ceilings = append(now.ceilings, c.amps)
		at[c.control.Controller] = i
	}
	for i, r := range is.Runs {
		now.held[i] = -1
		if r.Port != nil {
			if k, ok := at[r.Port.Controller]; ok {
				now.held[i] = k
			}
		}
	}
	alike := slices.Equal(now.ceilings, was.ceilings) && slices.Equal(now.held, was.held)
	var d digest
	for i := range split.Parts {
		p := &split.Parts[i]
		same := i < len(was.contents) && was.split.Parts[i].Circuit == p.Circuit
		if same {
			now.contents[i] = was.contents[i]
		} else {
			now.contents[i] = d.circuit(p.Circuit)
		}
		if same && alike {
			now.budgets[i] = was.budgets[i]
		} else {
			now.budgets[i] = now.spend(p, now.contents[i], &d)
		}
	}
	memo.cuts.keep(name, now)
	return now, nil
}

// spend turns ceilings into budgets for a part's strips. A ceiling bounds the
// sum over all that the controller drives: all of it may go here. Budgets stand
// in the order of the strips, so that parts alike under other controllers are one.
func (c *cut) spend(p *circuit.Part, key content, d *digest) spent {
	var out spent
	for k, strip := range p.Strips {
		i := c.held[strip]
		if i < 0 {
			continue
		}
		at := slices.Index(out.ceilings, i)
		if at < 0 {
			at = len(out.ceilings)
			out.ceilings = append(out.ceilings, i)
			out.budgets = append(out.budgets, circuit.Budget{Amps: c.ceilings[i]})
		}
		out.budgets[at].Strips = append(out.budgets[at].Strips, k)
	}
	out.budgets = p.Circuit.Clip(out.budgets)
	out.bound, out.factors = d.budgets(key, out.budgets, true), d.budgets(key, out.budgets, false)
	return out
}

// prepare finds the entries of an island's parts in the memo.
func (is *Island) prepare(f *Figures, memo *Memo, d *digest) {
	parts, cases := make([]part, len(is.split.Parts)), len(f.Cases)
	is.parts, is.memo = make([]*part, len(parts)), memo
	drives := make([]circuit.Drive, len(parts)*cases) // of all parts; each takes its own from the front
	solutions := make([]*kept[*circuit.Solution], len(parts)*cases)
	strips := make(circuit.Drive, len(is.Runs)*cases)
	contents := make([]content, len(parts)*cases)
	for i := range parts {
		p := &parts[i]
		p.Part = &is.split.Parts[i]
		is.parts[i] = p
		if !p.Live {
			continue
		}
		key := is.cut.contents[i]
		p.network = memo.networks.entry(key)
		p.drives, drives = drives[:cases], drives[cases:]
		p.solutions, solutions = solutions[:cases], solutions[cases:]
		p.contents, contents = contents[:cases], contents[cases:]
		for k, c := range f.Cases {
			var drive circuit.Drive
			drive, strips = strips[:len(p.Strips)], strips[len(p.Strips):]
			for j, strip := range p.Strips {
				drive[j].Share = f.shares(c, is.Runs[strip])
			}
			p.drives[k] = drive
			p.contents[k] = d.drive(key, drive)
			p.solutions[k] = memo.solutions.entry(p.contents[k])
		}
		now := former{p.network, p.solutions}
		if was := memo.former.replace(is.name(p), &now); was != nil {
			p.former = *was
		}
		spent := &is.cut.budgets[i]
		p.budgets, p.ceilings = spent.budgets, spent.ceilings
		p.bound = memo.bounds.entry(spent.bound)
		p.factors = memo.factors.entry(spent.factors)
		if is.canLoosen(p) {
			returns, side := is.connections(p)
			p.loose = memo.loose.entry(d.connections(spent.bound, returns, side))
		}
	}
}

// name is one for a part that it keeps while its values are edited.
func (is *Island) name(p *part) string {
	switch {
	case len(p.Strips) > 0:
		return is.Runs[p.Strips[0]].ID()
	case len(p.Sinks) > 0:
		return is.Control[p.Sinks[0]].ID()
	}
	return is.wires[p.Wires[0]].ID()
}

// ceiling is a controller's budget over all that it drives.
type ceiling struct {
	control *Controller
	amps    float64 // A, less the idle current of all its pixels
}

func (f *Figures) allCeilings() []ceiling {
	var out []ceiling
	for _, c := range f.Controllers {
		if c.Ceiling.Set && !c.Ceiling.Bad {
			out = append(out, ceiling{c, max(0, c.Ceiling.V.SI-c.Idle)})
		}
	}
	return out
}

// known reports whether the part is worked out.
func (p *part) known() bool {
	if !p.Live {
		return true
	}
	for _, s := range p.solutions {
		if !s.done.Load() {
			return false
		}
	}
	return p.bound.done.Load() && p.factors.done.Load()
}

// work works the part out. Its error is that of the context.
func (p *part) work(ctx context.Context) error {
	if p.known() {
		return nil
	}
	if err := p.network.get(ctx, func() (*circuit.Network, error) { return circuit.PrepareLike(p.Circuit, p.like()) }); err != nil {
		return err
	}
	n, failed := p.network.value, p.network.err
	for k, s := range p.solutions {
		err := s.get(ctx, func() (*circuit.Solution, error) {
			if failed != nil {
				return nil, failed
			}
			return n.SolveFrom(p.drives[k], p.start(k))
		})
		if err != nil {
			return err
		}
	}
	err := p.bound.get(ctx, func() (*circuit.Bound, error) {
		if failed != nil {
			return nil, failed
		}
		return n.Any(p.budgets)
	})
	if err != nil {
		return err
	}
	return p.factors.get(ctx, func() ([]*circuit.Factors, error) {
		if p.bound.err != nil {
			return nil, p.bound.err
		}
		out := make([]*circuit.Factors, len(p.Sources))
		for i := range out {
			out[i] = p.bound.value.Factors(circuit.Term{Source: true, Index: i, Times: 1})
		}
		return out, nil
	})
}

// start is the solution of the part before the edit, to begin a case from, nil
// where there is none.
func (p *part) start(c int) *circuit.Solution {
	if c < len(p.former.solutions) && p.former.solutions[c].done.Load() {
		return p.former.solutions[c].value
	}
	return nil
}

// like is the network of the part before the edit, nil where there is none.
func (p *part) like() *circuit.Network {
	if was := p.former.network; was != nil && was.done.Load() {
		return was.value
	}
	return nil
}

// solved is a part worked out.
func (is *Island) solved(i int) *part {
	p := is.parts[i]
	_ = p.work(context.Background()) // that does not end
	return p
}

// solution is that of a part in a case, nil where nothing flows.
func (is *Island) solution(part, c int) (*circuit.Solution, error) {
	p := is.solved(part)
	if !p.Live {
		return nil, nil
	}
	return p.solutions[c].value, p.solutions[c].err
}

// wireAmps is the current of a wire of the island in a case, A.
func (is *Island) wireAmps(wire, c int) (amps float64, ok bool) {
	at := is.split.Wires[wire]
	sol, err := is.solution(at.Part, c)
	if err != nil || sol == nil {
		return 0, err == nil
	}
	return sol.WireAmps[at.Index], true
}

// sourceAmps is the current of a source, A: the sum over the parts that it is in.
func (is *Island) sourceAmps(source, c int) (amps float64, ok bool) {
	for _, at := range is.split.Sources[source] {
		sol, err := is.solution(at.Part, c)
		if err != nil {
			return 0, false
		}
		amps += sol.SourceAmps[at.Index]
	}
	return amps, true
}

// strip is a run in a case, nil where it has no power.
func (is *Island) strip(r *Run, c int) *circuit.StripSolution {
	at := is.split.Strips[r.strip]
	sol, err := is.solution(at.Part, c)
	if err != nil || sol == nil || !sol.Strips[at.Index].Powered {
		return nil
	}
	return &sol.Strips[at.Index]
}

// between is the voltage of a place's plus over its minus, V.
func (is *Island) between(n [2]int, c int) (volts float64, ok bool) {
	failed := false
	volts, ok = is.split.Between(n[0], n[1], func(part int) *circuit.Solution {
		sol, err := is.solution(part, c)
		if err != nil {
			failed = true
			return is.parts[part].nothing()
		}
		return sol
	})
	return volts, ok && !failed
}

// nothing stands in for a solution that there is not.
func (p *part) nothing() *circuit.Solution {
	return &circuit.Solution{Volts: make([]float64, p.Circuit.Nodes)}
}

// runsOf names strips of a part.
func (is *Island) runsOf(p *part, strips []int) []*Run {
	var out []*Run
	for _, i := range strips {
		out = append(out, is.Runs[p.Strips[i]])
	}
	return out
}

// anyWire is the bound of a wire's current over every pattern, A, how much of it the warmth of others may
// add, and what lights.
func (is *Island) anyWire(wire int) (amps, spill float64, lit []*Run, ok bool) {
	at := is.split.Wires[wire]
	p := is.solved(at.Part)
	if !p.Live {
		return 0, 0, nil, true
	}
	if p.bound.err != nil {
		return 0, 0, nil, false
	}
	b := p.bound.value
	return b.Wires[at.Index], b.Spill[at.Index], is.runsOf(p, b.WireLit[at.Index]), true
}

// anySource is the bound of a source's current over every pattern, A: one fill
// over the factors of all parts that it is in, as each ceiling is spent once. spill as that of anyWire.
func (is *Island) anySource(source int, ceilings []ceiling) (amps, spill float64, ok bool) {
	var shares []circuit.Share
	for _, at := range is.split.Sources[source] {
		p := is.solved(at.Part)
		if p.factors.err != nil {
			return 0, 0, false
		}
		shares = append(shares, circuit.Share{Factors: p.factors.value[at.Index], Budgets: p.ceilings})
		spill += p.factors.value[at.Index].Spill
	}
	budgets := make([]float64, len(ceilings))
	for i, c := range ceilings {
		budgets[i] = c.amps
	}
	amps, _ = circuit.Greatest(budgets, shares...)
	return amps, spill, true
}

// outputs visits the island's sources: the outputs of its supplies in turn.
func (is *Island) outputs(s *schema.Supply, visit func(source int)) {
	first := is.source[s]
	for i := range s.Outputs.V {
		visit(first + i)
	}
}
