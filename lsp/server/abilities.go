package server

import (
	"slices"

	"go.lsp.dev/protocol"

	"ohmstead/schema/source"
)

// abilities are what the client can do, as far as it matters here.
type abilities struct {
	encoding source.Encoding

	configuration    bool // answers workspace/configuration
	watchConfig      bool // takes a registration for changes of the configuration
	watchFiles       bool // takes a registration for watched files
	progress         bool
	showDocument     bool
	applyEdit        bool
	documentChanges  bool
	createFiles      bool
	virtualDocuments bool // asks for the text of documents by a scheme of ours

	pull        bool // asks for diagnostics itself
	pullRefresh bool
	related     bool
	codeLink    bool
	tags        []protocol.DiagnosticTag
	version     bool // of published diagnostics

	snippets           bool
	itemKinds          []protocol.CompletionItemKind // empty: those of the first version of the protocol
	labelDetails       bool
	completionResolve  bool // may fetch the documentation later
	completionTags     bool
	suggestCommand     string // of the editor: opens the list of proposals again
	completionMarkdown bool
	hoverMarkdown      bool
	signatureMarkdown  bool
	labelOffsets       bool // of parameters
	actionLiterals     bool
	actionResolve      bool // may fetch the edit later
	actionPreferred    bool
	definitionLinks    bool
	typeLinks          bool
	prepareRename      bool
	linkedEditing      bool
	hierarchy          bool                  // of document symbols
	symbolKinds        []protocol.SymbolKind // empty: those of the first version of the protocol
	wideSymbolKinds    []protocol.SymbolKind // the same of symbols of the workspace
	linkTips           bool
	formatRanges       bool
	lineFolding        bool
	foldLimit          int
	collapsedText      bool
	lensRefresh        bool
	hintRefresh        bool
	hints              bool // shows hints within the text
}

func yes(b *bool) bool { return b != nil && *b }

// abilitiesOf reads the client's capabilities. Everything in them may be missing.
func abilitiesOf(c *protocol.ClientCapabilities) *abilities {
	a := &abilities{encoding: source.UTF16}
	if g := c.General; g != nil {
		a.encoding = encodingFrom(g.PositionEncodings)
	}
	if w := c.Window; w != nil {
		a.progress = yes(w.WorkDoneProgress)
		a.showDocument = w.ShowDocument != nil && w.ShowDocument.Support
	}
	a.workspace(c.Workspace)
	a.textDocument(c.TextDocument)
	return a
}

// encodingFrom picks bytes wherever they are offered, since then no position
// has to be counted; else code points if the client likes them best, else what
// every client has.
func encodingFrom(offered []protocol.PositionEncodingKind) source.Encoding {
	switch {
	case slices.Contains(offered, protocol.PositionEncodingKindUTF8):
		return source.UTF8
	case len(offered) > 0 && offered[0] == protocol.PositionEncodingKindUTF32:
		return source.Rune
	}
	return source.UTF16
}

func encodingName(e source.Encoding) protocol.PositionEncodingKind {
	switch e {
	case source.UTF8:
		return protocol.PositionEncodingKindUTF8
	case source.Rune:
		return protocol.PositionEncodingKindUTF32
	}
	return protocol.PositionEncodingKindUTF16
}

func (a *abilities) workspace(w *protocol.WorkspaceClientCapabilities) {
	if w == nil {
		return
	}
	a.configuration = yes(w.Configuration)
	a.watchConfig = w.DidChangeConfiguration != nil && yes(w.DidChangeConfiguration.DynamicRegistration)
	a.watchFiles = w.DidChangeWatchedFiles != nil && yes(w.DidChangeWatchedFiles.DynamicRegistration)
	a.applyEdit = yes(w.ApplyEdit)
	a.documentChanges = w.WorkspaceEdit != nil && yes(w.WorkspaceEdit.DocumentChanges)
	a.createFiles = a.documentChanges && slices.Contains(w.WorkspaceEdit.ResourceOperations, protocol.ResourceOperationKindCreate)
	a.virtualDocuments = w.TextDocumentContent != nil
	a.pullRefresh = w.Diagnostics != nil && yes(w.Diagnostics.RefreshSupport)
	a.lensRefresh = w.CodeLens != nil && yes(w.CodeLens.RefreshSupport)
	a.hintRefresh = w.InlayHint != nil && yes(w.InlayHint.RefreshSupport)
	if w.Symbol != nil && w.Symbol.SymbolKind != nil {
		a.wideSymbolKinds = w.Symbol.SymbolKind.ValueSet
	}
}

func (a *abilities) textDocument(t *protocol.TextDocumentClientCapabilities) {
	if t == nil {
		return
	}
	if p := t.PublishDiagnostics; p != nil {
		a.version = yes(p.VersionSupport)
		a.diagnostics(&p.DiagnosticsCapabilities)
	}
	if d := t.Diagnostic; d != nil {
		a.pull = true
		a.diagnostics(&d.DiagnosticsCapabilities)
	}
	if c := t.Completion; c != nil && c.CompletionItemKind != nil {
		a.itemKinds = c.CompletionItemKind.ValueSet
	}
	if c := t.Completion; c != nil && c.CompletionItem != nil {
		i := c.CompletionItem
		a.snippets = yes(i.SnippetSupport)
		a.labelDetails = yes(i.LabelDetailsSupport)
		a.completionResolve = slices.Contains(i.ResolveSupport.Properties, "documentation")
		a.completionTags = slices.Contains(i.TagSupport.ValueSet, protocol.CompletionItemTagDeprecated)
		a.completionMarkdown = prefersMarkdown(i.DocumentationFormat)
	}
	if h := t.Hover; h != nil {
		a.hoverMarkdown = prefersMarkdown(h.ContentFormat)
	}
	if s := t.SignatureHelp; s != nil && s.SignatureInformation != nil {
		a.signatureMarkdown = prefersMarkdown(s.SignatureInformation.DocumentationFormat)
		p := s.SignatureInformation.ParameterInformation
		a.labelOffsets = p != nil && yes(p.LabelOffsetSupport)
	}
	if c := t.CodeAction; c != nil {
		a.actionLiterals = len(c.CodeActionLiteralSupport.CodeActionKind.ValueSet) > 0
		a.actionResolve = slices.Contains(c.ResolveSupport.Properties, "edit") && yes(c.DataSupport)
		a.actionPreferred = yes(c.IsPreferredSupport)
	}
	a.hints = t.InlayHint != nil
	a.linkedEditing = t.LinkedEditingRange != nil
	a.definitionLinks = t.Definition != nil && yes(t.Definition.LinkSupport)
	a.typeLinks = t.TypeDefinition != nil && yes(t.TypeDefinition.LinkSupport)
	if d := t.DocumentSymbol; d != nil {
		a.hierarchy = yes(d.HierarchicalDocumentSymbolSupport)
		if d.SymbolKind != nil {
			a.symbolKinds = d.SymbolKind.ValueSet
		}
	}
	a.linkTips = t.DocumentLink != nil && yes(t.DocumentLink.TooltipSupport)
	a.formatRanges = t.RangeFormatting != nil && yes(t.RangeFormatting.RangesSupport)
	a.prepareRename = t.Rename != nil && yes(t.Rename.PrepareSupport)
	if f := t.FoldingRange; f != nil {
		a.lineFolding = yes(f.LineFoldingOnly)
		if f.RangeLimit != nil {
			a.foldLimit = int(*f.RangeLimit)
		}
		a.collapsedText = f.FoldingRange != nil && yes(f.FoldingRange.CollapsedText)
	}
}

func (a *abilities) diagnostics(d *protocol.DiagnosticsCapabilities) {
	a.related = a.related || yes(d.RelatedInformation)
	a.codeLink = a.codeLink || yes(d.CodeDescriptionSupport)
	a.tags = append(a.tags, d.TagSupport.ValueSet...)
}

// prefersMarkdown follows the order of the client's list; a client that names
// no format gets Markdown source, which reads well as plain text too.
func prefersMarkdown(formats []protocol.MarkupKind) bool {
	return slices.Contains(formats, protocol.MarkupKindMarkdown)
}
