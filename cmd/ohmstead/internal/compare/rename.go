package compare

import (
	"slices"

	"ohmstead/lint/resolved"
	"ohmstead/schema"
)

// Renaming is believed from this likeness on.
const alike = 0.6

// mostCompared bounds the pairs that are compared for one type: beyond it
// blocks are told as removed and added.
const mostCompared = 40_000

// renames looks for blocks that are gone on one side and come on the other
// under another name. What is recognised helps to recognise what refers to it,
// so it goes round until nothing new is found.
func (m *matching) renames(of func(*written) bool) {
	for range 6 {
		gone, come := m.unmatched(of)
		type candidate struct {
			b, h  *written
			score float64
			apart int
		}
		var found []candidate
		for name, bs := range gone {
			hs := come[name]
			if len(bs)*len(hs) > mostCompared {
				continue
			}
			for i, b := range bs {
				for k, h := range hs {
					if s := m.likeness(b, h); s >= alike {
						found = append(found, candidate{b, h, s, max(i-k, k-i)})
					}
				}
			}
		}
		if len(found) == 0 {
			return
		}
		slices.SortFunc(found, func(x, y candidate) int {
			switch {
			case x.score != y.score && x.score > y.score:
				return -1
			case x.score != y.score:
				return 1
			case x.apart != y.apart:
				return x.apart - y.apart
			}
			return m.base.order[x.b] - m.base.order[y.b]
		})
		for _, c := range found {
			if _, taken := m.is[c.b.id]; taken {
				continue
			}
			if _, taken := m.was[c.h.id]; taken {
				continue
			}
			m.join(c.b, c.h)
		}
	}
}

// unmatched lists the named blocks of each type that have no counterpart.
func (m *matching) unmatched(of func(*written) bool) (gone, come map[string][]*written) {
	list := func(v *version, matched map[string]string) map[string][]*written {
		out := map[string][]*written{}
		for _, w := range v.all {
			if _, ok := matched[w.id]; !ok && w.head.Type.Label != "" && of(w) {
				out[w.head.Type.Name] = append(out[w.head.Type.Name], w)
			}
		}
		return out
	}
	return list(m.base, m.is), list(m.head, m.was)
}

// likeness is how much two blocks have in common, 0 to 1: what they say, and
// who refers to them.
func (m *matching) likeness(b, h *written) float64 {
	if (len(b.blocks) > 1 || b.head.Copy > 0) != (len(h.blocks) > 1 || h.head.Copy > 0) {
		return 0
	}
	content := m.content(b.blocks[0], h.blocks[0])
	if content < 0.5 {
		return 0
	}
	refs, kept := 0, 0
	for _, u := range m.base.users[b.id] {
		by, ok := m.is[u.by.id]
		if !ok {
			continue
		}
		refs++
		for _, x := range m.head.users[h.id] {
			if x.by.id == by && x.attr == u.attr {
				kept++
				break
			}
		}
	}
	if refs == 0 {
		return content
	}
	return 0.5*content + 0.5*float64(kept)/float64(refs)
}

// content is the share of attributes that two blocks have in common.
func (m *matching) content(b, h schema.Block) float64 {
	was, is := byName(resolved.Attrs(b)), byName(resolved.Attrs(h))
	all, same := 0.0, 0.0
	for name, x := range was {
		all++
		y, ok := is[name]
		switch {
		case !ok:
		case resolved.Same(x.Value, y.Value, m.rename):
			same++
		case m.undecided(x.Value, y.Value):
			same += 0.5
		}
	}
	for name := range is {
		if _, ok := was[name]; !ok {
			all++
		}
	}
	if bn, hn := resolved.Nested(b), resolved.Nested(h); len(bn)+len(hn) > 0 {
		all++
		if len(m.nested("", bn, hn)) == 0 {
			same++
		}
	}
	if all == 0 {
		return alike // nothing speaks for it, nothing against it
	}
	if lb, lh := schema.HeaderOf(b).Like, schema.HeaderOf(h).Like; lb != nil && lh != nil &&
		m.rename(schema.HeaderOf(lb).ID()) != schema.HeaderOf(lh).ID() {
		same /= 2 // another product
	}
	return same / all
}

// undecided reports whether two references name blocks that are still without
// a counterpart: they may turn out to be the same.
func (m *matching) undecided(x, y any) bool {
	a, b := targets(x), targets(y)
	if len(a) == 0 || len(a) != len(b) {
		return false
	}
	for i := range a {
		_, known := m.is[schema.HeaderOf(a[i]).ID()]
		_, taken := m.was[schema.HeaderOf(b[i]).ID()]
		if known || taken || schema.HeaderOf(a[i]).Type != schema.HeaderOf(b[i]).Type {
			return false
		}
	}
	return true
}

func byName(as []resolved.Attr) map[string]resolved.Attr {
	out := make(map[string]resolved.Attr, len(as))
	for _, a := range as {
		out[a.Name] = a
	}
	return out
}
