package circuit

import "sync"

// Network is a circuit made ready: its topology is analysed once, and each drive case is
// then solved at little cost. It is safe for concurrent use.
type Network struct {
	c        *Circuit
	loads    []load // of each strip in the drive that the circuit came with, then of each sink
	powered  []bool // for each strip
	spots    []spot // of all nodes, then of the rail points that are no node
	islands  []island
	floating []floating
	sources  sourceGraph
	darkness func() *darkness // when it is first asked for
	cold     func() *Network  // without warmth
}

// spot is where a point lies: the unknown that it hangs on and how far it rises above it.
type spot struct {
	island  int32   // -1 where no current can reach it
	unknown int32   // within the island; the island's own count stands for its reference
	rise    float64 // V
	part    int32   // conductors joined without a load in between are one part
}

// island is a part of the network that shares currents.
type island struct {
	unknowns int
	branches []branch
	drains   []drain
	segments []segment
	anchors  []int32 // unknowns, see anchorSiemens
	volts    float64 // highest source
	warm     bool    // some branch warms up
	form     *form
	ringed   func() *ringed
	copper   func() *factored
}

// branch is a wire of an island, or a rail between two taps of a strip whose pixels have no power.
type branch struct {
	wire           int     // -1 for a rail
	strip          int     // of a rail
	at             float64 // where the rail begins, m
	a, b           int32   // unknowns
	aPoint, bPoint int32
	rise           float64 // of a over b beyond the unknowns, V
	metres         float64 // of a rail
	siemens        float64 // without current
	heat, most     float64 // as those of Wire
}

// drain is a load between two unknowns: a sink, or a pixel right at a tap.
type drain struct {
	strip, k              int // strip -1: sink k
	plus, minus           int32
	rise                  float64
	plusPoint, minusPoint int32
}

// knot is a tapped place of a strip.
type knot struct {
	at          float64 // m from the start
	plus, minus int32   // points
	pixel       int     // that sits right there, or -1
}

// anchorSiemens ties a part of an island that is linked to the rest by loads alone to its own last
// potential while Newton's steps go on, as the loads may leave it free to float. The tie pulls
// with no current once the steps end, so the solution is exact.
const anchorSiemens = 1e-4

// PrepareLike is as Prepare, and the network is the same to the last bit. Where that of c has the shape of another one, other
// values of wires, sinks and strips, it takes over what hangs on that alone.
func PrepareLike(c *Circuit, other *Network) (*Network, error) {
	if other == nil || !other.c.shaped(c) {
		return Prepare(c)
	}
	if err := c.check(); err != nil {
		return nil, err
	}
	n := other.valued(c, 1)
	for i := range n.islands {
		n.islands[i].ready()
	}
	n.ready()
	return n, nil
}

// Prepare checks c and analyses it. The network keeps c, which must not change from then on.
func Prepare(c *Circuit) (*Network, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	n := &Network{c: c, powered: make([]bool, len(c.Strips))}
	for i := range c.Strips {
		s := &c.Strips[i]
		n.loads = append(n.loads, newLoad(s.Law, StripDrive{s.Share, s.Each}))
	}
	for _, s := range c.Sinks {
		n.loads = append(n.loads, sinkLoad(s))
	}

	p := &planner{Network: n, shorts: newForest(c.Nodes)}
	p.tap()
	if err := p.stiffen(); err != nil {
		return nil, err
	}
	p.separate()
	p.place()
	p.connect()
	p.hang()
	n.sources = newSourceGraph(c, p.shorts)
	n.ready()
	return n, nil
}

func (n *Network) ready() {
	n.darkness = sync.OnceValue(n.newDarkness)
	n.cold = sync.OnceValue(func() *Network { return n.frozen(nil) })
}
