package source

import (
	"bytes"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// Piece is one stretch of a file parsed by itself: normally one top-level block with the comment lines directly above
// it, and whatever follows it up to the next such block. It is immutable and shared by successive versions of the file,
// so every offset in it is relative to its first byte. It is read when first asked for, and only once.
type Piece struct {
	data     []byte
	read     func() reading
	body     atomic.Pointer[hclsyntax.Body] // until it is asked for
	lex      func() hclsyntax.Tokens
	comments func() hclsyntax.Tokens
	near     atomic.Int64 // index at which a file held the piece when it was last looked up: a hint and no more

	mu    sync.Mutex
	memo  map[any]func() any
	first atomic.Pointer[kept] // of memo, for the one that every version asks for
}

// kept is a value kept in a piece.
type kept struct{ key, value any }

func newPiece(data []byte) *Piece {
	p := &Piece{data: data}
	p.read = sync.OnceValue(func() reading {
		r, body := read(data)
		p.body.Store(body)
		return r
	})
	p.lex = sync.OnceValue(func() hclsyntax.Tokens { return p.read().tokens() })
	p.comments = sync.OnceValue(func() hclsyntax.Tokens { return comments(p.read().tokens()) })
	return p
}

// Bytes returns the bytes of the piece, which must not be changed.
func (p *Piece) Bytes() []byte { return p.data }

// Body returns the syntax tree; it is never nil and must not be changed. Its ranges have no file name, their Byte
// values are relative to the piece, and so are their lines.
//
// In a piece with syntax errors the tree holds every statement that can be read once the broken ones are set aside. A
// broken statement is present too, as far as it can be read alone: an attribute has its name and whatever part of its
// value was there, a block without its closing brace has the lines that are indented below it. [Piece.Broken] tells
// such values from sound ones. In a refused piece the tree is empty.
//
// A tree takes more memory than all else that is known of a piece, and who asks makes something of it at once: the piece
// does not keep it, and parses again for who asks again.
func (p *Piece) Body() *hclsyntax.Body {
	p.read()
	if body := p.body.Swap(nil); body != nil {
		return body
	}
	_, body := read(p.data)
	return body
}

// Problems returns the syntax errors by offset: at most one in a line and a few in a piece.
func (p *Piece) Problems() []Problem { return p.read().problems }

// Broken reports whether a syntax error touches the bytes from start to end, so that no rule can rely on what was read
// from them.
func (p *Piece) Broken(start, end int) bool {
	r := p.read()
	if r.refused {
		return true
	}
	overlaps := func(s stretch) bool { return s.overlaps(start, end) }
	return slices.ContainsFunc(r.broken, overlaps) || slices.ContainsFunc(r.problems, func(p Problem) bool {
		return overlaps(stretch{p.Start, p.End})
	})
}

// Tokens returns the tokens of the piece, comments included, ending with an end-of-file token. Broken statements are
// lexed by themselves, so that an open quote does not turn the lines after it into a string. It is empty for a piece
// that was refused.
func (p *Piece) Tokens() hclsyntax.Tokens { return p.lex() }

// Comments returns the tokens that are comments. A piece without a byte that could start one is not lexed for it, and
// of the others no more is kept.
func (p *Piece) Comments() hclsyntax.Tokens {
	if bytes.IndexByte(p.data, '#') < 0 && bytes.IndexByte(p.data, '/') < 0 {
		return nil
	}
	return p.comments()
}

func comments(tokens hclsyntax.Tokens) (out hclsyntax.Tokens) {
	for _, t := range tokens {
		if t.Type == hclsyntax.TokenComment {
			out = append(out, t)
		}
	}
	return out
}

// Memo returns the value kept in the piece under key, made by the first call. It is safe for concurrent use: callers
// that ask for a value in the making wait for it, so make must not ask for its own key. Later stages hang their results
// for a piece here, to have them again in every version of the file that shares it.
func (p *Piece) Memo(key any, make func(*Piece) any) any {
	if k := p.first.Load(); k != nil && k.key == key {
		return k.value
	}
	p.mu.Lock()
	value, ok := p.memo[key]
	if !ok {
		if p.memo == nil {
			p.memo = map[any]func() any{}
		}
		value = sync.OnceValue(func() any { return make(p) })
		p.memo[key] = value
	}
	p.mu.Unlock()
	v := value()
	if p.first.Load() == nil {
		p.first.Store(&kept{key, v})
	}
	return v
}

// Span is a place in a piece. It stays valid in later versions of the file that share the piece.
type Span struct {
	Piece      *Piece
	Start, End int
}

// Bytes is the text of the place, nil for the zero Span.
func (s Span) Bytes() []byte {
	if s.Piece == nil {
		return nil
	}
	return s.Piece.Bytes()[s.Start:s.End]
}
