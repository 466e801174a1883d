package ide

import (
	"strings"

	"ohmstead/lint/limits"
	"ohmstead/schema"
)

// limitsOf lists how far values of a block may go, as far as that has been worked out; it
// works nothing out.
func (v *View) limitsOf(b schema.Block) []*limits.Limit {
	if v.Limits == nil || b == nil {
		return nil
	}
	return v.Limits(schema.HeaderOf(b).ID())
}

// limitFacts says how far a block's values may go, or the one of an attribute.
func (v *View) limitFacts(blocks []schema.Block, attr string) (fs facts) {
	if len(blocks) == 0 {
		return nil
	}
	for _, l := range v.limitsOf(blocks[0]) {
		if attr == "" || l.Attr == attr || l.Attr == "brightness" && attr == "ceiling" {
			fs.add("limit", "%s", l.Say())
		}
	}
	return fs
}

// limited says in a few words how far the value may go that a lens is about.
func (v *View) limited(b schema.Block) string {
	attr := ""
	switch b.(type) {
	case *schema.Run:
		attr = "length"
	case *schema.Controller:
		attr = "ceiling"
	case *schema.Supply:
		attr = "rating"
	}
	for _, l := range v.limitsOf(b) {
		if l.Attr == attr && l.Clears == nil {
			text, _, _ := strings.Cut(l.Say(), ";")
			return text
		}
	}
	return ""
}
