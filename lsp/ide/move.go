package ide

import (
	"bytes"
	"path"
	"slices"
	"strings"

	"ohmstead/lint/layout"
	"ohmstead/schema"
	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// moves take a block to another file of its directory, with the comments that are its own. The files of a directory
// are one plan, or stock together, so that it means the same there.
func (v *View) moves(h *hit) (out []Action) {
	if len(h.nodes) == 0 {
		return nil
	}
	n := h.nodes[0]
	if !touches(n.Head, h.at) || !slices.Contains(schema.NodesIn(n.Piece()), n) || len(n.Piece().Problems()) > 0 {
		return nil
	}
	f, start, end, ok := v.Plan.Locate(n.Whole)
	if !ok || strings.HasPrefix(f.Text.Path(), schema.CataloguePath) || slices.ContainsFunc(v.Plan.Problems, func(p *schema.Problem) bool { return p.Rule == schema.RuleNameDuplicate }) {
		return nil // of two of one name the first holds
	}
	what := n.Type
	if len(n.Labels) == 1 {
		what += "." + n.Label()
	}
	taken := newStretch(f, n, start, end)
	if taken.cutsComment() {
		return nil
	}
	dir, name := path.Split(f.Text.Path())
	fresh := strings.TrimSuffix(n.Type, "s") + "s" + plans.Suffix
	if stem, ok := strings.CutSuffix(n.Type, "y"); ok {
		fresh = stem + "ies" + plans.Suffix
	}
	known := strings.EqualFold(name, fresh)
	for _, to := range v.files() {
		in, other := path.Split(to.Text.Path())
		if in != dir || to == f {
			continue
		}
		known = known || strings.EqualFold(other, fresh) // as some systems know no difference
		if len(to.Pieces) > 0 && !slices.ContainsFunc(to.Pieces, func(p *source.Piece) bool { return len(p.Problems()) > 0 }) {
			out = append(out, Action{Title: "Move " + what + " to " + other, Kind: RefactorMove, Edits: []TextEdit{taken.cut(), taken.into(to)}})
		}
	}
	if v.NewFiles && !known {
		if laid, err := layout.Format([]byte(taken.text)); err == nil {
			taken.text = string(laid)
		}
		text := TextEdit{Location{Path: dir + fresh}, lineEnds(f.Text.Bytes(), taken.text)}
		out = append(out, Action{Title: "Move " + what + " to a new file, " + fresh, Kind: RefactorMove, Edits: []TextEdit{taken.cut(), text}})
	}
	return out
}

// stretch is the lines of a block in a file, with its comments.
type stretch struct {
	file       *source.File
	node       *schema.Node
	nodeStart  int // of the block itself
	start, end int
	text       string // with a line end behind it, and "\n" for all of them
}

// newStretch finds the lines of a block: those of the comments directly above belong to it.
func newStretch(f *source.File, n *schema.Node, start, end int) stretch {
	whole := fullLines(n.Whole)
	comments := n.Piece().Comments()
	for _, c := range slices.Backward(comments) {
		if c.Range.Start.Byte >= whole.Start {
			continue
		}
		own := fullLines(source.Span{Piece: n.Piece(), Start: c.Range.Start.Byte, End: c.Range.Start.Byte + len(bytes.TrimRight(c.Bytes, "\r\n"))})
		if own.End != whole.Start || len(bytes.TrimSpace(n.Piece().Bytes()[own.Start:c.Range.Start.Byte])) > 0 {
			break
		}
		whole.Start = own.Start
	}
	out := stretch{file: f, node: n, nodeStart: start, start: start - (n.Whole.Start - whole.Start), end: end + (whole.End - n.Whole.End)}
	out.text = strings.TrimRight(strings.ReplaceAll(text(whole), "\r\n", "\n"), "\n") + "\n"
	return out
}

// cutsComment reports whether a comment lies partly within the lines.
func (s stretch) cutsComment() bool {
	start := s.node.Whole.Start - (s.nodeStart - s.start)
	end := start + s.end - s.start
	for _, c := range s.node.Piece().Comments() {
		from, to := c.Range.Start.Byte, c.Range.Start.Byte+len(bytes.TrimRight(c.Bytes, "\r\n"))
		if from < end && start < to && (from < start || end < to) {
			return true
		}
	}
	return false
}

// cut takes the lines out, and the blank lines that they leave too many.
func (s stretch) cut() TextEdit {
	const blanks = " \t\r\n"
	src, top := string(s.file.Text.Bytes()), s.file.Offset(0)
	start, end := s.start, s.end
	before := max(top, len(strings.TrimRight(src[:start], blanks)))
	if before > top {
		before += strings.IndexByte(src[before:], '\n') + 1
	}
	behind := len(src) - len(strings.TrimLeft(src[end:], blanks))
	if behind < len(src) {
		behind = max(end, strings.LastIndexByte(src[:behind], '\n')+1)
	}
	if before == top || before < start {
		end = behind
	}
	if before == top || behind == len(src) {
		start = before
	}
	return TextEdit{Location{s.file.Text.Path(), start, end}, ""}
}

// into puts the lines into another file: behind the last block of their type, else at the end.
func (s stretch) into(to *source.File) TextEdit {
	src := string(to.Text.Bytes())
	at, tight := len(src), false
	for i, p := range slices.Backward(to.Pieces) {
		if nodes := schema.NodesIn(p); len(nodes) > 0 && nodes[len(nodes)-1].Type == s.node.Type {
			last := fullLines(nodes[len(nodes)-1].Whole)
			at = to.Offset(i) + last.End
			tight = strings.Count(s.text, "\n") == 1 && strings.Count(text(last), "\n") == 1
			break
		}
	}
	block := s.text
	if was, err := layout.Format([]byte(block)); err == nil && string(was) != block {
		if now, err := layout.Format(to.Text.Bytes()); err == nil && bytes.Equal(now, to.Text.Bytes()) {
			block = string(was)
		}
	}
	before := strings.ReplaceAll(src[to.Offset(0):at], "\r\n", "\n")
	switch {
	case strings.TrimSpace(before) == "" || tight && strings.HasSuffix(before, "\n"):
	case strings.HasSuffix(before, "\n\n"):
	case strings.HasSuffix(before, "\n"):
		block = "\n" + block
	default:
		block = "\n\n" + block
	}
	if line, _, _ := strings.Cut(src[at:], "\n"); strings.TrimSpace(line) != "" && !tight {
		block += "\n"
	}
	return TextEdit{Location{to.Text.Path(), at, at}, lineEnds(to.Text.Bytes(), block)}
}
