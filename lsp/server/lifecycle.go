package server

import (
	"context"
	"encoding/json"
	"fmt"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/schema/plans"
)

// Initialize learns what the client can and has, and says what the server can.
func (s *server) Initialize(_ context.Context, params *protocol.InitializeParams) (*protocol.InitializeResult, error) {
	s.can = abilitiesOf(&params.Capabilities)
	s.can.suggestCommand = suggestCommand(params.InitializationOptions)
	settings, err := readSettings(DefaultSettings(), params.InitializationOptions)
	if err != nil {
		s.log(protocol.MessageTypeWarning, "%v", err)
	}
	if params.Trace != "" {
		_ = s.SetTrace(context.Background(), &protocol.SetTraceParams{Value: params.Trace}) // it cannot fail
	}
	s.initial = settings
	s.change(func(snap *snapshot, _ *disk) *snapshot {
		next := snap.clone()
		next.settings = settings
		return next
	})
	s.given = foldersOf(params)
	s.phase.Store(serving)
	return &protocol.InitializeResult{
		Capabilities: s.capabilities(),
		ServerInfo:   protocol.ServerInfo{Name: "ohmstead", Version: protocol.NewOptional(s.opts.Version)},
	}, nil
}

// suggestCommand reads the one option that is no setting: the name of the
// client's own command that opens the list of proposals, which the protocol
// has no name for. With it, a proposal such as "supply." goes on by itself.
func suggestCommand(options []byte) string {
	var o struct {
		SuggestCommand string `json:"suggestCommand"`
	}
	if len(options) == 0 || json.Unmarshal(options, &o) != nil {
		return ""
	}
	return o.SuggestCommand
}

// Initialized starts what needs a client that is ready.
func (s *server) Initialized(context.Context, *protocol.InitializedParams) error {
	s.setFolders(s.given)
	s.beside("registering", s.register)
	s.beside("asking for the settings", s.fetchSettings)
	s.beside("serving the page", s.servePage)
	return nil
}

// register asks the client to watch files and the configuration.
func (s *server) register() {
	var rs []protocol.Registration
	if s.can.watchFiles {
		options, err := protocol.Marshal(&protocol.DidChangeWatchedFilesRegistrationOptions{
			Watchers: []protocol.FileSystemWatcher{
				{GlobPattern: protocol.Pattern("**/*" + plans.Suffix)},
				// Of a directory that is moved or removed, a client tells only itself.
				{GlobPattern: protocol.Pattern("**/*"), Kind: protocol.WatchKindCreate | protocol.WatchKindDelete},
			},
		})
		if err == nil {
			rs = append(rs, protocol.Registration{ID: "ohmstead-files", Method: protocol.MethodWorkspaceDidChangeWatchedFiles, RegisterOptions: options})
		}
	}
	if s.can.watchConfig {
		rs = append(rs, protocol.Registration{ID: "ohmstead-settings", Method: protocol.MethodWorkspaceDidChangeConfiguration,
			RegisterOptions: protocol.LSPAny(`{"section":"ohmstead"}`)})
	}
	if len(rs) == 0 {
		return
	}
	if err := s.client.RegisterCapability(s.life, &protocol.RegistrationParams{Registrations: rs}); err != nil {
		s.log(protocol.MessageTypeWarning, "watching files: %v", err)
	}
}

// Shutdown ends the service; only exit may follow.
func (s *server) Shutdown(context.Context) error {
	s.phase.Store(shut)
	return nil
}

// Exit ends the conversation.
func (s *server) Exit(context.Context) error {
	code := 1
	if s.phase.Load() == shut {
		code = 0
	}
	select {
	case s.exit <- code:
	default: // said already
	}
	return nil
}

// DidChangeConfiguration takes new settings: those that it brings, or those
// that the client keeps.
func (s *server) DidChangeConfiguration(_ context.Context, params *protocol.DidChangeConfigurationParams) error {
	if s.can.configuration {
		s.beside("asking for the settings", s.fetchSettings)
		return nil
	}
	s.setSettings(params.Settings)
	return nil
}

// fetchSettings asks the client for its settings.
func (s *server) fetchSettings() {
	if !s.can.configuration {
		return
	}
	section := "ohmstead"
	item := protocol.ConfigurationItem{Section: &section}
	if ws := s.current.Load().workspaces(); len(ws) > 0 {
		u := uri.File(ws[0].folders[0].given)
		item.ScopeURI = &u
	}
	got, err := s.client.Configuration(s.life, &protocol.ConfigurationParams{Items: []protocol.ConfigurationItem{item}})
	if err != nil || len(got) == 0 {
		if s.life.Err() == nil {
			s.log(protocol.MessageTypeWarning, "asking for the settings: %v", fmt.Sprint(err))
		}
		return
	}
	if string(got[0]) != "null" {
		s.setSettings(got[0])
	}
}

func (s *server) setSettings(data []byte) {
	settings, err := readSettings(s.initial, data)
	if err != nil {
		s.log(protocol.MessageTypeWarning, "%v", err)
	}
	if s.current.Load().settings == settings {
		return
	}
	if settings.Trace != s.current.Load().settings.Trace {
		_ = s.SetTrace(s.life, &protocol.SetTraceParams{Value: protocol.TraceValue(settings.Trace.Server)}) // it cannot fail
	}
	s.change(func(snap *snapshot, _ *disk) *snapshot {
		next := snap.clone()
		next.settings = settings
		return next
	})
	s.beside("refreshing", s.refreshAll)
	s.beside("serving the page", s.servePage)
}

// refreshAll has the client ask again for what depends on the settings.
func (s *server) refreshAll() {
	for _, r := range []struct {
		can bool
		ask func(context.Context) error
	}{
		{s.can.hintRefresh, s.client.InlayHintRefresh},
		{s.can.lensRefresh, s.client.CodeLensRefresh},
		{s.can.pull && s.can.pullRefresh, s.client.DiagnosticRefresh},
	} {
		if r.can {
			if err := r.ask(s.life); err != nil && s.life.Err() == nil {
				s.log(protocol.MessageTypeWarning, "refreshing: %v", err)
			}
		}
	}
}

// refreshPulled has a client that asks for findings ask again, since something
// changed that it cannot know of.
func (s *server) refreshPulled() {
	if s.can.pull && s.can.pullRefresh {
		if err := s.client.DiagnosticRefresh(s.life); err != nil && s.life.Err() == nil {
			s.log(protocol.MessageTypeWarning, "refreshing: %v", err)
		}
	}
}
