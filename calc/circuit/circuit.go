// Package circuit solves the direct-current network of a strip installation:
// ideal supplies, wires, controllers and runs of addressable pixels.
//
// Plus and minus are kept apart: each conductor has its own nodes, so a lead may
// carry one side only and returns may be shared between supplies. Every element
// is monotone (more volts never draw less current), so the node potentials are
// the unique minimum of a convex function, the co-content of the network
// (Millar, "Some general theorems for non-linear systems possessing resistance",
// Philosophical Magazine 42, 1951; from memory). Solve finds it for any topology
// to 1e-9 V, at a cost that grows linearly with the pixels.
//
// All quantities are SI: volts, amperes, ohms, metres.
package circuit

// Circuit is a two-conductor network. Nodes are numbered 0 to Nodes-1; the plus
// and the minus conductor of a place are two nodes.
type Circuit struct {
	Nodes   int
	Sources []Source
	Wires   []Wire
	Sinks   []Sink
	Strips  []Strip
}

// Source is an ideal voltage source: the potential of Plus is Volts above that of
// Minus. Volts lies in 0 to MaxVolts.
type Source struct {
	Plus, Minus int
	Volts       float64 // V
}

// Wire is one conductor: one side of a lead, a fuse, the contact of a joint.
// Its resistance rises with the heat of its own current:
//
//	R(I) = Ohms * (1 + Heat * min(I^2, Most^2))
//
// Ohms lies in MinOhms to MaxOhms, Heat in 0 to MaxHeat.
type Wire struct {
	A, B int
	Ohms float64 // ohm, without current
	Heat float64 // 1/A2; 0 for a resistance that stays
	Most float64 // A, beyond which it rises no more
}

// At is the resistance at a current, ohm.
func (w *Wire) At(amps float64) float64 { return w.Ohms * (1 + w.Heat*min(amps*amps, w.Most*w.Most)) }

// Sink is a load that is not a pixel, such as a controller. It draws
//
//	I(V) = Amps * s(V / Knee),  s(x) = min(1, max(0, x))
//
// from Plus to Minus. A Knee of 0 stands for IdleKnee.
type Sink struct {
	Plus, Minus int
	Amps        float64 // A
	Knee        float64 // V
}

// Strip is a run of pixels on two rails of copper that reach from 0 to
// Pixels*Pitch. Pixel k draws at (k+0.5)*Pitch.
type Strip struct {
	Pixels int
	Pitch  float64 // m between pixels
	Rail   float64 // ohm/m of one rail
	Law    *Law
	Share  []float64   // 0 to 1 for each channel, the same in all pixels; nil is dark
	Each   [][]float64 // shares pixel by pixel; wins over Share when not nil
	Taps   []Tap       // where nodes attach, sorted by At
}

// Tap ties nodes to the rails of a strip without resistance. A tap may carry one
// side only: the other is -1.
type Tap struct {
	At          float64 // m from the start of the strip
	Plus, Minus int     // a node, or -1
}

// Limits of the inputs. They are far outside anything that is built and keep the
// arithmetic exact to the promised 1e-9 V.
const (
	MinOhms     = 1e-9 // ohm, least resistance of a wire or of one pitch of rail
	MaxOhms     = 1e9  // ohm
	MaxVolts    = 1e4  // V
	MaxAmps     = 1e4  // A, of one sink or one channel
	MaxHeat     = 1e6  // 1/A2, and MaxRise for Heat * Most^2
	MaxRise     = 10
	MinHeadroom = 1e-3 // V; a smaller Headroom or Knee is a step, solved as if this wide
	MaxMetres   = 1e5  // m, length of a strip
	MaxPixels   = 10_000_000
)
