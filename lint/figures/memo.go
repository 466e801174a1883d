package figures

import (
	"encoding/binary"
	"math"
	"sync"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
)

// Memo keeps the solutions of islands between versions of a plan. It holds
// what the last two calls of Work used. It is safe for concurrent use.
type Memo struct {
	mu       sync.Mutex
	cur, old map[string]*solved
	trials   *Memo // of plans that are only tried out; nil in a memo of trials
}

// NewMemo makes an empty memo.
func NewMemo() *Memo {
	return &Memo{cur: map[string]*solved{}, trials: &Memo{cur: map[string]*solved{}}}
}

// solved is everything that was worked out for one island. Who asks first does
// the work, or who comes after one that was told to stop.
type solved struct {
	mu       sync.Mutex
	done     bool
	cases    []*circuit.Solution
	errs     []error
	any      *circuit.Bound
	exposure []protect.Exposure
	err      error
}

func (m *Memo) turn() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.old, m.cur = m.cur, map[string]*solved{}
	if m.trials != nil {
		m.trials.turn()
	}
}

func (m *Memo) entry(key string) *solved {
	m.mu.Lock()
	defer m.mu.Unlock()
	if s, ok := m.cur[key]; ok {
		return s
	}
	s, ok := m.old[key]
	if !ok {
		s = &solved{}
	}
	m.cur[key] = s
	return s
}

// key spells out everything that an island's solution depends on.
func key(c *circuit.Circuit, g *protect.Grid, drives []circuit.Drive, budgets []circuit.Budget) string {
	b := make([]byte, 0, 64*(len(c.Wires)+len(c.Strips)+len(c.Sources)+1))
	num := func(xs ...float64) {
		for _, x := range xs {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
	}
	count := func(xs ...int) {
		for _, x := range xs {
			b = binary.LittleEndian.AppendUint32(b, uint32(x))
		}
	}
	count(c.Nodes, len(c.Sources), len(c.Wires), len(c.Sinks), len(c.Strips), len(drives), len(budgets))
	for _, s := range c.Sources {
		count(s.Plus, s.Minus)
		num(s.Volts)
	}
	for _, w := range c.Wires {
		count(w.A, w.B)
		num(w.Ohms)
	}
	for _, s := range c.Sinks {
		count(s.Plus, s.Minus)
		num(s.Amps, s.Knee)
	}
	for _, s := range c.Strips {
		count(s.Pixels, len(s.Taps), len(s.Law.Channels))
		num(s.Pitch, s.Rail, s.Law.Idle)
		if s.Law.Series {
			count(1)
		} else {
			count(0)
		}
		for _, ch := range s.Law.Channels {
			num(ch.Amps, ch.Forward, ch.Headroom)
		}
		for _, t := range s.Taps {
			num(t.At)
			count(t.Plus, t.Minus)
		}
	}
	for _, d := range drives {
		for _, s := range d {
			count(len(s.Share))
			num(s.Share...)
		}
	}
	for _, bud := range budgets {
		num(bud.Amps)
		count(len(bud.Strips))
		count(bud.Strips...)
	}
	for _, s := range g.Sources {
		num(s.Limit)
	}
	for _, k := range g.Conductors {
		num(k.Ampacity, k.Fuse)
		count(int(k.Side))
	}
	return string(b)
}
