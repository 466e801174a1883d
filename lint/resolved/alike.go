package resolved

import (
	"bytes"

	"ohmstead/schema"
)

// Alike reports whether two versions of a plan say the same: the same blocks in the same
// order, each of them the same once like and let are followed, and the same of what makes no
// sense as language.
func Alike(a, b *schema.Plan) bool {
	if len(a.Blocks) != len(b.Blocks) || len(a.Problems) != len(b.Problems) {
		return false
	}
	for i, p := range a.Problems {
		if q := b.Problems[i]; p.Rule != q.Rule || p.Message != q.Message {
			return false
		}
	}
	for i, x := range a.Blocks {
		if y := b.Blocks[i]; x != y && !bytes.Equal(spelt(x), spelt(y)) { // most are one block in both
			return false
		}
	}
	return true
}

// spelt is a block in the plan language. What is written to memory does not fail.
func spelt(b schema.Block) []byte {
	var out bytes.Buffer
	_ = Write(&out, []schema.Block{b})
	return out.Bytes()
}
