package ide

import (
	"strings"
	"testing"

	"ohmstead/schema/bigplan"
)

// BenchmarkResolveChoice works out what a wire brings on a plan of 2,250 lines: somebody looks at the list and waits.
func BenchmarkResolveChoice(b *testing.B) {
	text := bigplan.Wall(1)
	v := viewOf(text)
	lead := strings.Index(text, "\nlead \"")
	at := lead + strings.Index(text[lead:], "wire ")
	at += strings.Index(text[at:], "wire.") + len("wire.")
	var key string
	for _, it := range Complete(v, at) {
		if it.Label == "thin" {
			key = it.Key
		}
	}
	if key == "" {
		b.Fatal("no wire is offered")
	}
	for b.Loop() {
		if doc := Resolve(v, Item{Key: key}).Doc; !strings.HasPrefix(doc, "With it: ") {
			b.Fatal(doc)
		}
	}
}
