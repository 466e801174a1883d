package server

import (
	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
	"ohmstead/schema/plans"
)

// capabilities are what the server offers this client.
func (s *server) capabilities() protocol.ServerCapabilities {
	c := protocol.ServerCapabilities{
		PositionEncoding: encodingName(s.can.encoding),
		TextDocumentSync: &protocol.TextDocumentSyncOptions{
			OpenClose: ptr(true),
			Change:    ptr(protocol.TextDocumentSyncKindIncremental),
			Save:      &protocol.SaveOptions{IncludeText: ptr(false)},
		},
		CompletionProvider: &protocol.CompletionOptions{
			TriggerCharacters: completionTriggers,
			ResolveProvider:   ptr(true),
			CompletionItem:    &protocol.ServerCompletionItemOptions{LabelDetailsSupport: ptr(true)},
		},
		HoverProvider:                   protocol.Boolean(true),
		SignatureHelpProvider:           &protocol.SignatureHelpOptions{TriggerCharacters: []string{"(", ","}, RetriggerCharacters: []string{")"}},
		DefinitionProvider:              protocol.Boolean(true),
		TypeDefinitionProvider:          protocol.Boolean(true),
		ReferencesProvider:              protocol.Boolean(true),
		DocumentHighlightProvider:       protocol.Boolean(true),
		DocumentSymbolProvider:          protocol.Boolean(true),
		WorkspaceSymbolProvider:         protocol.Boolean(true),
		CodeActionProvider:              protocol.Boolean(true),
		CodeLensProvider:                &protocol.CodeLensOptions{ResolveProvider: ptr(true)},
		DocumentLinkProvider:            &protocol.DocumentLinkOptions{ResolveProvider: ptr(false)},
		ColorProvider:                   protocol.Boolean(true),
		DocumentFormattingProvider:      protocol.Boolean(true),
		DocumentRangeFormattingProvider: protocol.Boolean(true),
		DocumentOnTypeFormattingProvider: protocol.DocumentOnTypeFormattingOptions{
			FirstTriggerCharacter: ide.FormatTriggers[0],
			MoreTriggerCharacter:  ide.FormatTriggers[1:],
		},
		RenameProvider:         protocol.Boolean(true),
		FoldingRangeProvider:   protocol.Boolean(true),
		SelectionRangeProvider: protocol.Boolean(true),
		ExecuteCommandProvider: protocol.ExecuteCommandOptions{Commands: commands},
		CallHierarchyProvider:  protocol.Boolean(true),
		SemanticTokensProvider: &protocol.SemanticTokensOptions{
			Legend: protocol.SemanticTokensLegend{TokenTypes: ide.TokenTypes, TokenModifiers: ide.TokenModifiers},
			Range:  protocol.Boolean(true),
			Full:   &protocol.SemanticTokensFullDelta{Delta: ptr(true)},
		},
		InlayHintProvider: &protocol.InlayHintOptions{ResolveProvider: ptr(false)},
		Workspace:         s.workspaceOptions(),
	}
	// Clients that do not know these options take only a plain yes.
	if s.can.actionLiterals {
		c.CodeActionProvider = &protocol.CodeActionOptions{CodeActionKinds: actionKinds, ResolveProvider: ptr(true)}
	}
	if s.can.linkedEditing {
		c.LinkedEditingRangeProvider = protocol.Boolean(true)
	}
	if s.can.formatRanges {
		c.DocumentRangeFormattingProvider = &protocol.DocumentRangeFormattingOptions{RangesSupport: ptr(true)}
	}
	if s.can.prepareRename {
		c.RenameProvider = &protocol.RenameOptions{PrepareProvider: ptr(true)}
	}
	if s.can.pull {
		c.DiagnosticProvider = &protocol.DiagnosticOptions{Identifier: ptr("ohmstead"), InterFileDependencies: true, WorkspaceDiagnostics: true}
	}
	return c
}

func (s *server) workspaceOptions() *protocol.WorkspaceOptions {
	w := &protocol.WorkspaceOptions{
		WorkspaceFolders: &protocol.WorkspaceFoldersServerCapabilities{Supported: ptr(true), ChangeNotifications: protocol.Boolean(true)},
	}
	file := protocol.FileOperationFilter{Scheme: ptr("file"), Pattern: protocol.FileOperationPattern{Glob: "**/*" + plans.Suffix, Matches: protocol.FileOperationPatternKindFile}}
	dir := protocol.FileOperationFilter{Scheme: ptr("file"), Pattern: protocol.FileOperationPattern{Glob: "**", Matches: protocol.FileOperationPatternKindFolder}}
	both := protocol.FileOperationRegistrationOptions{Filters: []protocol.FileOperationFilter{file, dir}}
	w.FileOperations = &protocol.FileOperationOptions{DidCreate: both, DidRename: both, DidDelete: both}
	if s.can.virtualDocuments {
		w.TextDocumentContent = &protocol.TextDocumentContentOptions{Schemes: []string{catalogueScheme, ruleScheme}}
	}
	return w
}
