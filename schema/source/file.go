package source

import "slices"

// File is one version of a text, cut into pieces. The bytes of the pieces, one after the other, are the bytes of the
// text behind its byte order mark. A file has at least one piece unless it was refused.
type File struct {
	Text   *Text
	Pieces []*Piece

	starts  []int // offset of each piece in the text
	refused *Problem
}

// Parse cuts a text into pieces. The pieces are read when they are first asked for.
func Parse(t *Text) *File {
	start := markLength(t.data)
	return &File{Text: t, Pieces: []*Piece{newPiece(t.data[start:])}, starts: []int{start}}
}

// Update returns what [Parse] returns for t, but shares with f every piece whose bytes did not change.
func (f *File) Update(t *Text) *File { return Parse(t) }

// Refused returns why the file as a whole was not read, or nil. Such a file has no pieces.
func (f *File) Refused() *Problem { return f.refused }

// Offset returns the byte offset of piece i in the text.
func (f *File) Offset(i int) int { return f.starts[i] }

// PieceAt returns the index of the piece that holds the byte at offset: the first piece for offsets before it, the last
// one for the end of the text, -1 if the file has no pieces.
func (f *File) PieceAt(offset int) int {
	i, found := slices.BinarySearch(f.starts, offset)
	if !found {
		i--
	}
	return min(max(i, 0), len(f.Pieces)-1)
}

// Index returns where p stands in this version of the file, if it does.
func (f *File) Index(p *Piece) (i int, ok bool) {
	i = slices.Index(f.Pieces, p)
	return i, i >= 0
}

// Range returns the byte offsets of a span in this version of the file, if it holds the span's piece.
func (f *File) Range(s Span) (start, end int, ok bool) {
	i, ok := f.Index(s.Piece)
	if !ok {
		return 0, 0, false
	}
	return f.starts[i] + s.Start, f.starts[i] + s.End, true
}
