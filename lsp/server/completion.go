package server

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint/figures"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// completionTriggers open the list without being asked: a step of a reference,
// a text, a value, an item of a list, and the blank behind a number.
var completionTriggers = []string{".", "\"", "=", "[", "(", " ", "/"}

var itemKinds = map[ide.ItemKind]protocol.CompletionItemKind{
	ide.BlockItem:     protocol.CompletionItemKindClass,
	ide.AttributeItem: protocol.CompletionItemKindProperty,
	ide.ReferenceItem: protocol.CompletionItemKindReference,
	ide.EntryItem:     protocol.CompletionItemKindConstant,
	ide.StepItem:      protocol.CompletionItemKindField,
	ide.UnitItem:      protocol.CompletionItemKindUnit,
	ide.ValueItem:     protocol.CompletionItemKindEnumMember,
	ide.FunctionItem:  protocol.CompletionItemKindFunction,
	ide.LetItem:       protocol.CompletionItemKindVariable,
	ide.RuleItem:      protocol.CompletionItemKindKeyword,
	ide.FolderItem:    protocol.CompletionItemKindFolder,
	ide.ColourItem:    protocol.CompletionItemKindColor,
	ide.SnippetItem:   protocol.CompletionItemKindSnippet,
	ide.WordItem:      protocol.CompletionItemKindText,
}

// plainItemKinds stand for kinds that a client need not know: those that the
// protocol had from the start reach to Reference.
var plainItemKinds = map[protocol.CompletionItemKind]protocol.CompletionItemKind{
	protocol.CompletionItemKindFolder:     protocol.CompletionItemKindFile,
	protocol.CompletionItemKindEnumMember: protocol.CompletionItemKindValue,
	protocol.CompletionItemKindConstant:   protocol.CompletionItemKindValue,
}

// itemData is what an item carries until it is resolved.
type itemData struct {
	URI uri.URI `json:"uri"`
	Key string  `json:"key"`
}

// Completion proposes what may stand at a place.
func (s *server) Completion(ctx context.Context, params *protocol.CompletionParams) (protocol.CompletionResult, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	needs := rulesNamed(q.file, offset)
	if !s.can.completionResolve {
		needs |= needFigures
	}
	v, err := s.view(ctx, q, needs)
	if err != nil {
		return nil, err
	}
	v.Before = q.plan.past.last()
	var unworked error
	v.Work = func() (f *figures.Figures) {
		f, unworked = q.plan.figures(ctx)
		return f
	}
	items := ide.Complete(v, offset)
	if unworked != nil {
		return nil, unworked
	}
	list := &protocol.CompletionList{Items: make([]protocol.CompletionItem, 0, len(items))}
	for _, it := range items {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		list.Items = append(list.Items, s.completionItem(v, q, params.TextDocument.URI, it))
	}
	return list, nil
}

func (s *server) completionItem(v *ide.View, q *question, u uri.URI, it ide.Item) protocol.CompletionItem {
	out := protocol.CompletionItem{Label: it.Label, Kind: itemKinds[it.Kind]}
	if plain, late := plainItemKinds[out.Kind]; late && !slices.Contains(s.can.itemKinds, out.Kind) {
		out.Kind = plain
	}
	text := it.Text
	if it.Snippet != "" && s.can.snippets {
		text = it.Snippet
		out.InsertTextFormat = protocol.InsertTextFormatSnippet
	}
	out.TextEdit = &protocol.TextEdit{Range: s.span(q.file.Text, it.Start, it.End), NewText: text}
	if it.Sort != "" {
		out.SortText = protocol.NewOptional(it.Sort)
	}
	if it.Filter != "" {
		out.FilterText = protocol.NewOptional(it.Filter)
	}
	if s.can.labelDetails {
		out.LabelDetails = &protocol.CompletionItemLabelDetails{}
		if it.Detail != "" {
			out.LabelDetails.Detail = ptr(" " + it.Detail)
		}
		if it.Note != "" {
			out.LabelDetails.Description = &it.Note
		}
	} else if detail := joinNonEmpty(it.Detail, it.Note); detail != "" {
		out.Detail = protocol.NewOptional(detail)
	}
	if it.Worse && s.can.completionTags {
		out.Tags = []protocol.CompletionItemTag{protocol.CompletionItemTagDeprecated}
	}
	if it.Again && s.can.suggestCommand != "" {
		out.Command = protocol.Command{Title: "Go on", Command: s.can.suggestCommand}
	}
	if s.can.completionResolve {
		out.Data = jsonData(itemData{URI: u, Key: it.Key})
	} else if doc := ide.Resolve(v, it).Doc; doc != "" {
		out.Documentation = markup(s.can.completionMarkdown, doc)
	}
	return out
}

// rulesNamed reports whether names of rules are written at an offset, which is
// when it matters what is found: in comments and in a policy.
func rulesNamed(f *source.File, offset int) need {
	t := f.Text
	line := t.Line(t.OffsetPosition(offset, source.UTF8).Line)
	if bytes.Contains(line, []byte("#")) || bytes.Contains(line, []byte("//")) {
		return needFindings
	}
	if i := f.PieceAt(offset); i >= 0 {
		for _, n := range schema.NodesIn(f.Pieces[i]) {
			if n.Type == "policy" {
				return needFindings
			}
		}
	}
	return 0
}

func joinNonEmpty(a, b string) string {
	if a != "" && b != "" {
		return a + ", " + b
	}
	return a + b
}

// CompletionResolve adds an item's documentation.
func (s *server) CompletionResolve(ctx context.Context, item *protocol.CompletionItem) (*protocol.CompletionItem, error) {
	var data itemData
	if len(item.Data) == 0 || json.Unmarshal(item.Data, &data) != nil {
		return item, nil
	}
	q, ok := s.about(ctx, data.URI)
	if !ok {
		return item, nil
	}
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	if doc := ide.Resolve(v, ide.Item{Key: data.Key, Label: item.Label}).Doc; doc != "" {
		item.Documentation = markup(s.can.completionMarkdown, doc)
	}
	return item, nil
}

func jsonData(v any) protocol.LSPAny {
	data, err := json.Marshal(v)
	if err != nil {
		return nil
	}
	return data
}
