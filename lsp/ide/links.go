package ide

import (
	"regexp"
	"strings"
	"sync"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/schema"
)

// Link is a stretch of v.File that leads somewhere else.
type Link struct {
	Range
	Dir string // a directory relative to the workspace root; empty where URL says it
	URL string
	Tip string
}

var webAddress = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`https?://[^\s"'<>\\{}|^\x60]+`) })

// Links finds the stock directories and the web addresses in texts and comments.
func Links(v *View) []Link {
	var out []Link
	for i, p := range v.File.Pieces {
		s := spot{piece: p, base: v.File.Offset(i)}
		for _, n := range schema.NodesIn(p) {
			if a, ok := n.Assign("stock"); ok && n.Type == "plan" {
				for _, x := range a.Val.Listed() {
					if dir, ok := schema.StockDir(v.dir(), x.Text); ok && x.Kind == schema.TextVal {
						out = append(out, Link{Range: s.file(bare(x.At)), Dir: dir, Tip: "Open the stock directory"})
					}
				}
			}
		}
		if !strings.Contains(string(p.Bytes()), "://") {
			continue
		}
		for _, t := range p.Tokens() {
			switch t.Type {
			case hclsyntax.TokenComment, hclsyntax.TokenQuotedLit, hclsyntax.TokenStringLit:
			default:
				continue
			}
			for _, m := range webAddress().FindAllIndex(t.Bytes, -1) {
				url := strings.TrimRight(string(t.Bytes[m[0]:m[1]]), ".,;:!?)")
				start := t.Range.Start.Byte + m[0]
				out = append(out, Link{Range: s.file(s.span(start, start+len(url))), URL: url, Tip: "Open the source"})
			}
		}
	}
	return out
}
