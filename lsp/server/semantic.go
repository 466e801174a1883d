package server

import (
	"context"
	"strconv"
	"sync"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// tokenMemory keeps the tokens last sent for each document, to say what
// changed since.
type tokenMemory struct {
	sync.Mutex
	count int
	sent  map[string]sentTokens // by key of the document
}

type sentTokens struct {
	id   string
	data []uint32
}

// keep notes tokens as sent and gives their id.
func (m *tokenMemory) keep(key string, data []uint32) string {
	m.Lock()
	defer m.Unlock()
	m.count++
	id := strconv.Itoa(m.count)
	if m.sent == nil {
		m.sent = map[string]sentTokens{}
	}
	m.sent[key] = sentTokens{id, data}
	return id
}

// recall gives the tokens sent under an id, if they are still known.
func (m *tokenMemory) recall(key, id string) ([]uint32, bool) {
	m.Lock()
	defer m.Unlock()
	t, ok := m.sent[key]
	return t.data, ok && t.id == id
}

// size is how many numbers were sent last.
func (m *tokenMemory) size(key string) int {
	m.Lock()
	defer m.Unlock()
	return len(m.sent[key].data)
}

func (m *tokenMemory) forget(key string) {
	m.Lock()
	defer m.Unlock()
	delete(m.sent, key)
}

// SemanticTokensFull gives all tokens of a document.
func (s *server) SemanticTokensFull(ctx context.Context, params *protocol.SemanticTokensParams) (*protocol.SemanticTokens, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	return s.fullTokens(ctx, q)
}

func (s *server) fullTokens(ctx context.Context, q *question) (*protocol.SemanticTokens, error) {
	var before int // how many numbers the last time
	if q.doc != nil {
		before = s.tokens.size(q.doc.key)
	}
	data, err := s.encodeTokens(ctx, q, ide.Range{Start: 0, End: q.file.Text.Len()}, before)
	if err != nil {
		return nil, err
	}
	out := &protocol.SemanticTokens{Data: data}
	if q.doc != nil {
		id := s.tokens.keep(q.doc.key, data)
		out.ResultID = &id
	}
	return out, nil
}

// SemanticTokensRange gives the tokens of a part of a document.
func (s *server) SemanticTokensRange(ctx context.Context, params *protocol.SemanticTokensRangeParams) (*protocol.SemanticTokens, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	data, err := s.encodeTokens(ctx, q, s.stretch(q, params.Range), 0)
	if err != nil {
		return nil, err
	}
	return &protocol.SemanticTokens{Data: data}, nil
}

// SemanticTokensFullDelta says what changed since the tokens of an id: one
// stretch between what is the same at the start and at the end.
func (s *server) SemanticTokensFullDelta(ctx context.Context, params *protocol.SemanticTokensDeltaParams) (protocol.SemanticTokensDeltaResult, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	if q.doc == nil {
		return s.fullTokens(ctx, q) // a file of the catalogue
	}
	old, ok := s.tokens.recall(q.doc.key, params.PreviousResultID)
	full, err := s.fullTokens(ctx, q)
	if err != nil || !ok {
		return full, err
	}
	return &protocol.SemanticTokensDelta{ResultID: full.ResultID, Edits: deltaOf(old, full.Data)}, nil
}

func deltaOf(old, now []uint32) []protocol.SemanticTokensEdit {
	start := 0
	for start < len(old) && start < len(now) && old[start] == now[start] {
		start++
	}
	if start == len(old) && start == len(now) {
		return []protocol.SemanticTokensEdit{}
	}
	end := 0
	for end < len(old)-start && end < len(now)-start && old[len(old)-1-end] == now[len(now)-1-end] {
		end++
	}
	return []protocol.SemanticTokensEdit{{
		Start:       uint32(start),
		DeleteCount: uint32(len(old) - start - end),
		Data:        now[start : len(now)-end],
	}}
}

// encodeTokens writes tokens as the protocol has them: each as line and column
// counted from the one before, length, type and modifiers. before is about how many numbers that gives.
func (s *server) encodeTokens(ctx context.Context, q *question, at ide.Range, before int) ([]uint32, error) {
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	out := make([]uint32, 0, before+before/16)
	t := q.file.Text
	line, from := 0, t.LineStart(0) // where the token before is, and from where columns are counted
	for k := range ide.Tokens(v, at) {
		above := line
		for line+1 < t.Lines() && t.LineStart(line+1) <= k.Start {
			line++
		}
		if line > above {
			from = t.LineStart(line)
		}
		width := func(start, end int) uint32 { return uint32(s.can.encoding.Width(t.Bytes()[start:end])) }
		out = append(out, uint32(line-above), width(from, k.Start), width(k.Start, k.Start+k.Length), uint32(k.Type), k.Modifiers)
		from = k.Start
	}
	return out, nil
}
