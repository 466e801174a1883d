package circuit

import (
	"sync"
	"sync/atomic"
)

// form is what hangs on the shape of an island alone, whatever the values of its elements are: all networks of that shape
// share it. Each is found when it is first asked for.
type form struct {
	copper  func() *mesh            // of the rails and the wires
	coupled func() *coupled         // of these and the loads
	rings   func() []int32          // branches on a ring of copper
	outline atomic.Pointer[outline] // some network's, of no island
}

// build makes the form of an island once it has all its elements.
func (is *island) build() {
	unknowns, branches, edges := is.unknowns, len(is.branches), is.edges() // and not the island, which only coupled holds, until it is first asked for
	is.form = &form{
		copper:  sync.OnceValue(func() *mesh { return newMesh(unknowns, edges) }),
		coupled: sync.OnceValue(is.newCoupled),
		rings:   sync.OnceValue(func() []int32 { return onRings(unknowns, branches, edges) }),
	}
	is.ready()
}

// ready lets be worked out what hangs on the values too.
func (is *island) ready() {
	is.copper = sync.OnceValue(is.newCopper)
	is.ringed = sync.OnceValue(is.newRinged)
}
