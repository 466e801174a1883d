package schema

import (
	"slices"
	"sync"
	"testing"
)

// An entry is found under what its first line says, and only what it is like
// is read with it.
func TestCatalogueReadsWhatIsAskedFor(t *testing.T) {
	l := openLibrary()
	for _, f := range l.Files {
		for _, p := range f.Pieces {
			for _, n := range nodesOf(p) {
				if n.Type != letType.Name && l.sections[n.Label()].piece != p {
					t.Errorf("%s %q is not found", n.Type, n.Label())
				}
			}
		}
	}
	b, ok := l.entry("awg_16_silicone")
	if !ok {
		t.Fatal("no such entry")
	}
	var read []string
	for name := range l.r.scope.named {
		read = append(read, name)
	}
	slices.Sort(read)
	if want := []string{"awg_12_silicone", "awg_16_silicone"}; !slices.Equal(read, want) {
		t.Errorf("read was %q, want %q", read, want)
	}
	if base, ok := l.entry("awg_12_silicone"); !ok || b.header().Like != base {
		t.Error("it is not like the entry that it was read with")
	}
	for name, s := range l.sections {
		if b, ok := l.entry(name); !ok || b.header().Name != name || b.header().Type.Name != s.typeName || b.header().Node.Piece() != s.piece {
			t.Errorf("%s %q is read as something else", s.typeName, name)
		}
	}
	if _, ok := l.entry("awg_17"); ok {
		t.Error("an entry that there is not")
	}
}

// Plans that are decoded at once share the entries.
func TestCatalogueIsSharedByMany(t *testing.T) {
	l := openLibrary()
	names := l.names()
	first := make([]Block, len(names))
	for i, n := range names[:len(names)/2] {
		first[i], _ = l.entry(n)
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for i, n := range names {
				b, ok := l.entry(n)
				if !ok || first[i] != nil && b != first[i] || l.effectiveOf(b) == nil {
					t.Errorf("%s is another one, or says nothing", n)
				}
			}
		})
	}
	all.Wait()
}
