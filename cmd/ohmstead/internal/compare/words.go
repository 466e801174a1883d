package compare

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
)

// sentence says in a few words what happened to a block.
func (b Block) sentence() string {
	id := b.name()
	switch b.What {
	case BlockDoubled:
		return fmt.Sprintf("%s is written twice, and which one is meant nobody knows", id)
	case BlockAdded:
		return strings.TrimRight(fmt.Sprintf("%s is new: %s", id, b.Brief), ": ")
	case BlockRemoved:
		return fmt.Sprintf("%s is gone", id)
	case BlockSplit, BlockJoined:
		var names []string
		for _, x := range b.Pieces {
			names = append(names, fmt.Sprintf("%s (%d)", x.ID, x.Pixels))
		}
		all := quantity.And(names)
		if b.What == BlockJoined {
			return fmt.Sprintf("%s are joined into %s (%s)", all, id, b.Brief)
		}
		return fmt.Sprintf("%s (%s) is split into %s", id, b.Brief, all)
	case BlockRenamed:
		s := fmt.Sprintf("%s is called %s now", b.Was, id)
		if len(b.Attrs) > 0 {
			s += ", and " + attrsInShort(b.Attrs)
		}
		return s
	}
	s := id + ": " + attrsInShort(b.Attrs)
	if n := len(b.Reach); n > 0 && partTypes[b.Type] && !b.Stock {
		s += " (in " + listed(b.Reach, 2) + ")"
	}
	return s
}

// partTypes are changed where they are described and show where they are used.
var partTypes = map[string]bool{"let": true, "strip": true, "diffuser": true, "wire": true, "fixing": true, "board": true}

// name is the block's address, with its copies and where it stands.
func (b Block) name() string {
	s := b.ID
	if b.Copies > 1 {
		s += fmt.Sprintf(" (× %d)", b.Copies)
	}
	if b.Stock {
		s += " (stock)"
	}
	return s
}

// telling ranks the attributes that say most about a part; the rest follows in
// the order of the declaration.
var telling = []string{"like", "voltage", "output", "channels", "density", "rating", "channel_current", "gauge", "length", "from", "to", "fuse", "runs", "ceiling", "first", "price"}

// attrsInShort names the attributes that matter most.
func attrsInShort(as []Attr) string {
	sorted := slices.DeleteFunc(slices.Clone(as), func(a Attr) bool { return a.Name == "source" && len(as) > 1 })
	rank := func(a Attr) int {
		i := slices.Index(telling, a.Name)
		switch {
		case a.Name == "note":
			return len(telling) + 1
		case i < 0:
			return len(telling)
		}
		return i
	}
	slices.SortStableFunc(sorted, func(a, b Attr) int { return rank(a) - rank(b) })
	var parts []string
	for _, a := range sorted {
		parts = append(parts, a.short())
	}
	if n := len(parts); n > 4 {
		parts = append(parts[:3], fmt.Sprintf("%d more", n-3))
	}
	return strings.Join(parts, ", ")
}

func (a Attr) short() string {
	was, is := clip(a.Was, 60), clip(a.Is, 60)
	name := a.Name
	if name == "value" {
		name = ""
	} else {
		name += " "
	}
	switch {
	case a.Was == "":
		return name + is + " (new)"
	case a.Is == "":
		return name + was + " → none"
	}
	return name + was + " → " + is
}

func listed(ids []string, most int) string {
	if len(ids) <= most+1 {
		return strings.Join(ids, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(ids[:most], ", "), len(ids)-most)
}
