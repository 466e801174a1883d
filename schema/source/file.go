package source

import (
	"bytes"
	"slices"
)

// File is one version of a text, cut into pieces. The bytes of the pieces, one after the other, are the bytes of the
// text behind its byte order mark. A file has at least one piece unless it was refused.
type File struct {
	Text   *Text
	Pieces []*Piece

	starts     []int // offset of each piece in the text
	lookaheads []int // number of bytes from the start of each piece that decide where it ends
	refused    *Problem
	unread     error
}

// Parse cuts a text into pieces. Each piece is read when something in it is first asked for.
func Parse(t *Text) *File {
	f := &File{Text: t, refused: refuseFile(t.data)}
	if f.refused != nil {
		return f
	}
	c := newCutter(t.data)
	for start := markLength(t.data); len(f.Pieces) <= MaxPieces; {
		end, lookahead := c.next(start)
		f.add(newPiece(t.data[start:end]), start, lookahead-start)
		if start = end; start == len(t.data) {
			break
		}
	}
	return f.limited()
}

// TooLarge returns what [Parse] returns for a file of more than [MaxFile] bytes, without its text: for those who know the
// size before they read.
func TooLarge(path string, size int64) *File {
	return &File{Text: NewText(path, nil), refused: tooLarge(size)}
}

// Unreadable returns a file that is refused because it could not be read.
func Unreadable(path string, why error) *File {
	return &File{Text: NewText(path, nil), refused: &Problem{Summary: "File cannot be read", Detail: why.Error()}, unread: why}
}

// Unread returns why the file could not be read, or nil.
func (f *File) Unread() error { return f.unread }

func (f *File) add(p *Piece, start, lookahead int) {
	p.near.Store(int64(len(f.Pieces)))
	f.Pieces = append(f.Pieces, p)
	f.starts = append(f.starts, start)
	f.lookaheads = append(f.lookaheads, lookahead)
}

// limited refuses a file with too many pieces.
func (f *File) limited() *File {
	if len(f.Pieces) > MaxPieces {
		return &File{Text: f.Text, refused: tooManyPieces(f.starts[MaxPieces])}
	}
	return f
}

// Update returns what [Parse] returns for t, but shares with f every piece whose bytes did not change. Apart from a
// comparison of the bytes, its cost grows with what changed and with the number of pieces, not with their size.
func (f *File) Update(t *Text) *File {
	if f.refused != nil || refuseFile(t.data) != nil {
		return Parse(t)
	}
	before, after := f.Text.data, t.data
	prefix := CommonPrefix(before, after)
	suffix := CommonSuffix(before[prefix:], after[prefix:])
	shift := len(after) - len(before)

	// Pieces stay whose ends were decided by bytes that are the same. The last one always depends on the end of the text.
	kept := 0
	for f.starts[kept]+f.lookaheads[kept] <= prefix {
		kept++
	}
	start := markLength(after)
	if kept > 0 {
		start = f.starts[kept]
	}

	// Cut anew until an old cut is met in bytes that are the same up to the end.
	c := newCutter(after)
	var starts, lookaheads []int
	next := len(f.Pieces)
	for {
		end, lookahead := c.next(start)
		starts, lookaheads = append(starts, start), append(lookaheads, lookahead-start)
		if start = end; start == len(after) {
			break
		}
		if start >= len(after)-suffix {
			if i, met := slices.BinarySearch(f.starts, start-shift); met {
				next = i
				break
			}
		}
	}

	n := kept + len(starts) + len(f.Pieces) - next
	g := &File{Text: t, Pieces: make([]*Piece, 0, n), starts: make([]int, 0, n), lookaheads: make([]int, 0, n)}
	g.Pieces = append(g.Pieces, f.Pieces[:kept]...)
	g.starts = append(g.starts, f.starts[:kept]...)
	g.lookaheads = append(g.lookaheads, f.lookaheads[:kept]...)
	old := byContent(f.Pieces[kept:next])
	for i, s := range starts {
		end := start
		if i+1 < len(starts) {
			end = starts[i+1]
		}
		g.add(old.take(after[s:end]), s, lookaheads[i])
	}
	for i := next; i < len(f.Pieces); i++ {
		g.add(f.Pieces[i], f.starts[i]+shift, f.lookaheads[i])
	}
	return g.limited()
}

// replaced holds the pieces of an old version that may be used again, by their bytes.
type replaced map[string][]*Piece

func byContent(pieces []*Piece) replaced {
	old := make(replaced, len(pieces))
	for _, p := range pieces {
		old[string(p.data)] = append(old[string(p.data)], p)
	}
	return old
}

// take returns an old piece with these bytes, each only once so that every piece has one place, or a new one. A new one
// copies its bytes: it may outlive many versions of the text and must not keep one of them in memory.
func (old replaced) take(data []byte) *Piece {
	if same := old[string(data)]; len(same) > 0 {
		old[string(data)] = same[1:]
		return same[0]
	}
	return newPiece(bytes.Clone(data))
}

// block is how many bytes are compared at once, which is several times as fast as one by one.
const block = 1 << 10

// CommonPrefix is how many bytes two texts share at their start.
func CommonPrefix(a, b []byte) int {
	n := min(len(a), len(b))
	i := 0
	for i+block <= n && bytes.Equal(a[i:i+block], b[i:i+block]) {
		i += block
	}
	for i < n && a[i] == b[i] {
		i++
	}
	return i
}

// CommonSuffix is how many bytes two texts share at their end.
func CommonSuffix(a, b []byte) int {
	n := min(len(a), len(b))
	a, b = a[len(a)-n:], b[len(b)-n:]
	i := n
	for i >= block && bytes.Equal(a[i-block:i], b[i-block:i]) {
		i -= block
	}
	for i > 0 && a[i-1] == b[i-1] {
		i--
	}
	return n - i
}

// Refused returns why the file as a whole was not read, or nil. Such a file has no pieces.
func (f *File) Refused() *Problem { return f.refused }

// Offset returns the byte offset of piece i in the text.
func (f *File) Offset(i int) int { return f.starts[i] }

// PieceAt returns the index of the piece that holds the byte at offset: the first piece for offsets before it, the last
// one for the end of the text, -1 if the file has no pieces.
func (f *File) PieceAt(offset int) (index int) {
	index, found := slices.BinarySearch(f.starts, offset)
	if !found {
		index--
	}
	return min(max(index, 0), len(f.Pieces)-1)
}

// Near is as Index, but only looks about where the piece stood when it was last cut or found: for those who ask several
// files.
func (f *File) Near(p *Piece) (i int, ok bool) {
	const around = 8
	near := int(p.near.Load())
	for i := max(near-around, 0); i < min(near+around, len(f.Pieces)); i++ {
		if f.Pieces[i] == p {
			return i, true
		}
	}
	return 0, false
}

// Index returns where p stands in this version of the file, if it does. From one version to the next a piece moves by a
// few places at most, so the search starts where it was found before.
func (f *File) Index(p *Piece) (i int, ok bool) {
	if p == nil {
		return 0, false // the place of what belongs to no piece
	}
	near := min(max(int(p.near.Load()), 0), len(f.Pieces))
	for up, down := near, near-1; up < len(f.Pieces) || down >= 0; up, down = up+1, down-1 {
		switch {
		case up < len(f.Pieces) && f.Pieces[up] == p:
			i = up
		case down >= 0 && f.Pieces[down] == p:
			i = down
		default:
			continue
		}
		p.near.Store(int64(i))
		return i, true
	}
	return 0, false
}

// Range returns the byte offsets of a span in this version of the file, if it holds the span's piece.
func (f *File) Range(s Span) (start, end int, ok bool) {
	i, ok := f.Index(s.Piece)
	if !ok {
		return 0, 0, false
	}
	return f.starts[i] + s.Start, f.starts[i] + s.End, true
}
