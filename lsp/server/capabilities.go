package server

import (
	"go.lsp.dev/protocol"
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
		HoverProvider: protocol.Boolean(true),
		Workspace:     s.workspaceOptions(),
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
	file := protocol.FileOperationFilter{Scheme: ptr("file"), Pattern: protocol.FileOperationPattern{Glob: "**/*" + planSuffix, Matches: protocol.FileOperationPatternKindFile}}
	dir := protocol.FileOperationFilter{Scheme: ptr("file"), Pattern: protocol.FileOperationPattern{Glob: "**", Matches: protocol.FileOperationPatternKindFolder}}
	both := protocol.FileOperationRegistrationOptions{Filters: []protocol.FileOperationFilter{file, dir}}
	w.FileOperations = &protocol.FileOperationOptions{DidCreate: both, DidRename: both, DidDelete: both}
	if s.can.virtualDocuments {
		w.TextDocumentContent = &protocol.TextDocumentContentOptions{Schemes: []string{catalogueScheme, ruleScheme}}
	}
	return w
}
