package schema

// Runs says several runs in a line each. It is but a way to write them: its
// attributes are read as the blocks that they stand for (see drawn), and these
// are filed where it stands.
type Runs struct{ Header }

const runsName = "runs"

var runsType = &BlockType{
	Name: runsName,
	Doc:  "Says several runs in a line each: the name of each, and the places that it passes or its length.",
	Detail: "What else they have is what is usual for runs. One that has more to say stands among them as a run block; " +
		"top = \"80 cm\" is the same as run \"top\" { length = \"80 cm\" }. They come in the order of the text.",
	Example: `runs {
  left  = [["10 cm", "15 cm"], ["10 cm", "65 cm"]]
  right = [["45 cm", "15 cm"], ["45 cm", "65 cm"]]
}`,
	Attrs:  []Attr{{Name: "*", Kind: Values, Doc: "A run of this name: the places that it passes, from start to end, or its length.", Example: `[["10 cm", "15 cm"], ["10 cm", "65 cm"]]`}},
	Blocks: []*BlockType{runType},
	form:   func() former { return new(Runs) },
}

// drawn turns the attributes of a runs block into the blocks that they stand for. What
// is not written has a place without width.
func (n *Node) drawn() {
	for _, a := range n.Assigns {
		name := "through"
		switch a.Val.Kind {
		case TextVal, NumberVal, RefVal, CallVal:
			name = "length"
		}
		word, value := a.NameAt, a.Val.At
		word.End, value.End = word.Start, value.Start
		after := a.Whole
		after.Start = after.End
		n.Blocks = append(n.Blocks, &Node{
			Type: "run", TypeAt: word, Labels: []Name{{a.Name, a.NameAt}}, Head: a.NameAt, Inside: after, Whole: a.Whole,
			Assigns: []*Assign{{Name: name, NameAt: value, Whole: a.Val.At, Val: a.Val}},
		})
	}
	n.Assigns = nil
}

// InLine reports whether a node is written as an attribute of a runs block.
func (n *Node) InLine() bool { return n.TypeAt.Start == n.TypeAt.End && n.Type != "" }

// members are the blocks in an assembly, those in runs blocks among them.
func (n *Node) members() (out []*Node) {
	for _, c := range n.Blocks {
		if c.Type != runsName {
			out = append(out, c)
			continue
		}
		for _, run := range c.Blocks {
			if run.Type == "run" {
				out = append(out, run)
			}
		}
	}
	return out
}
