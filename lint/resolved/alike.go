package resolved

import (
	"bytes"

	"ohmstead/schema"
)

// Alike reports whether two versions of a plan say the same: the same blocks in the same
// order, each of them the same once like and let are followed, and the same of what makes no
// sense as language.
func Alike(a, b *schema.Plan) bool {
	return AlikeBut(a, b, func(_, _ schema.Block) bool { return false })
}

// AlikeBut is as Alike, but that a block may say something else where may allows it.
func AlikeBut(a, b *schema.Plan, may func(x, y schema.Block) bool) bool {
	if len(a.Blocks) != len(b.Blocks) || len(a.Problems) != len(b.Problems) {
		return false
	}
	for i, p := range a.Problems {
		if q := b.Problems[i]; p.Rule != q.Rule || p.Message != q.Message {
			return false
		}
	}
	for i, x := range a.Blocks {
		if y := b.Blocks[i]; !AlikeBlocks(x, y) && !may(x, y) { // most are one block in both
			return false
		}
	}
	return true
}

// AlikeBlocks reports whether two blocks say the same.
func AlikeBlocks(a, b schema.Block) bool { return a == b || bytes.Equal(spelt(a), spelt(b)) }

// spelt is a block in the plan language. What is written to memory does not fail.
func spelt(b schema.Block) []byte {
	var out bytes.Buffer
	_ = Write(&out, []schema.Block{b})
	return out.Bytes()
}
