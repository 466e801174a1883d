package figures

import (
	"context"
	"encoding/binary"
	"hash/maphash"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
)

// Memo keeps what was worked out for the parts of a plan between its versions,
// so that an edit works out its own part only. It holds what the last two
// versions asked for that had all of their islands, and what came since, and is safe for concurrent use.
type Memo struct {
	mu        sync.Mutex
	networks  generations[content, kept[*circuit.Network]]
	solutions generations[content, kept[*circuit.Solution]] // of one part in one drive
	bounds    generations[content, kept[*circuit.Bound]]    // of one part under its budgets
	factors   generations[content, kept[[]*circuit.Factors]]
	loose     generations[content, kept[*circuit.Loose]]
	spreads   generations[content, kept[[]float64]] // what moves a reading
	exposures generations[content, faulted]         // of one network
	former    generations[string, former]           // by what a part's name is while its values are edited
	cuts      generations[string, cut]              // of an island, by its first lead
	trials    *Memo                                 // of plans that are only tried out; nil in a memo of trials

	partial bool // the last version left something out
	whole   int  // networks that the last version asked for that did not
}

// NewMemo makes an empty memo.
func NewMemo() *Memo {
	m := &Memo{trials: &Memo{}}
	t := m.trials
	t.networks.parent, t.solutions.parent, t.bounds.parent, t.factors.parent, t.loose.parent, t.spreads.parent, t.exposures.parent, t.cuts.parent =
		&m.networks, &m.solutions, &m.bounds, &m.factors, &m.loose, &m.spreads, &m.exposures, &m.cuts
	return m
}

// turn begins a new version of the plan. One that leaves out an island, as some of its wiring cannot be read
// while it is typed, asks for nothing there: nothing is forgotten after it, unless it goes on for so long that
// what is kept of other islands has grown.
func (m *Memo) turn() {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.partial && m.networks.size() <= 2*m.whole+100 {
		return
	}
	m.networks.turn()
	m.solutions.turn()
	m.bounds.turn()
	m.factors.turn()
	m.loose.turn()
	m.spreads.turn()
	m.exposures.turn()
	m.former.turn()
	m.cuts.turn()
	if t := m.trials; t != nil {
		t.turn()
	}
}

// content stands for everything that a result depends on: two hashes of it with
// different seeds.
type content [2]uint64

// cut is how an island was split, with what each part is bounded under.
type cut struct {
	split    *circuit.Split
	contents []content // of the circuit of each part
	ceilings []float64 // A, of those of the plan
	held     []int     // of each strip: the ceiling that holds it, -1 for none
	budgets  []spent   // of each part
}

// spent is what a part is bounded under.
type spent struct {
	budgets        []circuit.Budget
	ceilings       []int // of each of them: which of the plan's it is
	bound, factors content
}

// former is what was worked out for a part, to begin its next version from.
type former struct {
	network   *kept[*circuit.Network]
	solutions []*kept[*circuit.Solution] // by Figures.Cases index
}

// generations keeps the entries that this version and the one before asked for.
type generations[K comparable, V any] struct {
	mu       sync.Mutex
	cur, old map[K]*V
	parent   *generations[K, V] // looked into as well, or nil
}

func (g *generations[K, V]) turn() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.old, g.cur = g.cur, make(map[K]*V, len(g.cur))
}

// size is how many entries were asked for since the last turn.
func (g *generations[K, V]) size() int {
	g.mu.Lock()
	defer g.mu.Unlock()
	return len(g.cur)
}

// leave notes whether a version left something out.
func (m *Memo) leave(partial bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.partial = partial; !partial {
		m.whole = m.networks.size()
	}
}

// find returns the entry of a key, or nil.
func (g *generations[K, V]) find(k K) *V {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.look(k)
}

func (g *generations[K, V]) look(k K) *V {
	v := g.cur[k]
	if v == nil {
		if v = g.old[k]; v == nil && g.parent != nil {
			v = g.parent.find(k)
		}
	}
	return v
}

// entry returns the entry of a key, a new one if need be, and keeps it.
func (g *generations[K, V]) entry(k K) *V {
	g.mu.Lock()
	defer g.mu.Unlock()
	v := g.cur[k]
	if v == nil {
		if v = g.look(k); v == nil {
			v = new(V)
		}
		g.put(k, v)
	}
	return v
}

// keep keeps an entry under a key.
func (g *generations[K, V]) keep(k K, v *V) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.put(k, v)
}

// replace keeps an entry under a key, and returns the one before it, or nil.
func (g *generations[K, V]) replace(k K, v *V) *V {
	g.mu.Lock()
	defer g.mu.Unlock()
	was := g.cur[k]
	if was == nil {
		was = g.old[k]
	}
	g.put(k, v)
	return was
}

func (g *generations[K, V]) put(k K, v *V) {
	if g.cur == nil {
		g.cur = map[K]*V{}
	}
	g.cur[k] = v
}

// kept is a result that is worked out by who asks first, or by who comes after
// one that was told to stop.
type kept[T any] struct {
	mu    sync.Mutex
	done  atomic.Bool
	value T
	err   error
}

// get works the result out unless that is done. Its error is that of the
// context; the result's own stays with it.
func (k *kept[T]) get(ctx context.Context, work func() (T, error)) error {
	if k.done.Load() {
		return nil
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.done.Load() {
		return nil
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	k.value, k.err = work()
	k.done.Store(true)
	return nil
}

// faulted is what faults can drive through a grid, and what was asked about it
// with a minus loose.
type faulted struct {
	kept[[]protect.Exposure]

	asking   sync.Mutex // of what follows
	returns  *protect.Returns
	returned map[[2]int]float64 // A, by conductor and the one that is gone
}

// returning is what comes back through conductor i of g with another one gone, worked out once; g has the
// content that the exposures are kept under.
func (f *faulted) returning(g protect.Grid, i, gone int) (float64, error) {
	f.asking.Lock()
	defer f.asking.Unlock()
	if amps, ok := f.returned[[2]int{i, gone}]; ok {
		return amps, nil
	}
	if f.returns == nil {
		r, err := g.Returns()
		if err != nil {
			return 0, err
		}
		f.returns, f.returned = r, map[[2]int]float64{}
	}
	amps := f.returns.Through(i, gone)
	f.returned[[2]int{i, gone}] = amps
	return amps, nil
}

var seeds = [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()}

// digest gathers what a result depends on.
type digest struct{ bytes []byte }

func (d *digest) num(xs ...float64) {
	for _, x := range xs {
		d.bytes = binary.LittleEndian.AppendUint64(d.bytes, math.Float64bits(x))
	}
}

func (d *digest) count(xs ...int) {
	for _, x := range xs {
		d.bytes = binary.LittleEndian.AppendUint32(d.bytes, uint32(x))
	}
}

func (d *digest) of(c content) {
	for _, x := range c {
		d.bytes = binary.LittleEndian.AppendUint64(d.bytes, x)
	}
}

// content ends one and begins the next.
func (d *digest) content() (out content) {
	for i, seed := range seeds {
		out[i] = maphash.Bytes(seed, d.bytes)
	}
	d.bytes = d.bytes[:0]
	return out
}

// circuit is the content of a part's circuit.
func (d *digest) circuit(c *circuit.Circuit) content {
	d.count(c.Nodes, len(c.Sources), len(c.Wires), len(c.Sinks), len(c.Strips))
	for i := range c.Sources {
		s := &c.Sources[i]
		d.count(s.Plus, s.Minus)
		d.num(s.Volts)
	}
	for i := range c.Wires {
		w := &c.Wires[i]
		d.count(w.A, w.B)
		d.num(w.Ohms, w.Heat, w.Most)
	}
	for i := range c.Sinks {
		s := &c.Sinks[i]
		d.count(s.Plus, s.Minus)
		d.num(s.Amps, s.Knee)
	}
	for i := range c.Strips {
		s := &c.Strips[i]
		series := 0
		if s.Law.Series {
			series = 1
		}
		d.count(s.Pixels, len(s.Taps), len(s.Law.Channels), series)
		d.num(s.Pitch, s.Rail, s.Law.Idle)
		for _, ch := range s.Law.Channels {
			d.num(ch.Amps, ch.Forward, ch.Headroom)
		}
		for _, t := range s.Taps {
			d.num(t.At)
			d.count(t.Plus, t.Minus)
		}
	}
	return d.content()
}

// drive is the content of a circuit in a drive.
func (d *digest) drive(c content, drive circuit.Drive) content {
	d.of(c)
	for i := range drive {
		d.count(len(drive[i].Share))
		d.num(drive[i].Share...)
	}
	return d.content()
}

// budgets is the content of a circuit under budgets, or of those budgets
// whatever they allow.
func (d *digest) budgets(c content, budgets []circuit.Budget, amounts bool) content {
	d.of(c)
	d.count(len(budgets))
	for i := range budgets {
		d.count(len(budgets[i].Strips))
		d.count(budgets[i].Strips...)
		if amounts {
			d.num(budgets[i].Amps)
		}
	}
	return d.content()
}

// connections is the content of a circuit under budgets with what may come loose in it.
func (d *digest) connections(c content, returns, side []int) content {
	d.of(c)
	d.count(returns...)
	d.count(len(returns))
	d.count(side...)
	return d.content()
}

// grid is the content of a grid, ampacities aside.
func (d *digest) grid(g *protect.Grid) content {
	d.bytes = slices.Grow(d.bytes, 16*(1+len(g.Sources)+len(g.Loads))+20*len(g.Conductors))
	d.count(g.Nodes, len(g.Sources), len(g.Conductors), len(g.Loads))
	for i := range g.Sources {
		s := &g.Sources[i]
		d.count(s.Plus, s.Minus)
		d.num(s.Limit)
	}
	for i := range g.Conductors {
		c := &g.Conductors[i]
		d.count(c.A, c.B, int(c.Side))
		d.num(c.Fuse)
	}
	for _, l := range g.Loads {
		d.count(l.Plus, l.Minus)
	}
	return d.content()
}
