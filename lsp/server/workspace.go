package server

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// foldersOf lists the directories that the client opened, by the newest of the
// ways to say so that it used.
func foldersOf(params *protocol.InitializeParams) []uri.URI {
	if fs, ok := params.WorkspaceFolders.Get(); ok {
		var out []uri.URI
		for _, f := range fs {
			out = append(out, clone(f.URI))
		}
		return out
	}
	//lint:ignore SA1019 clients from before workspace folders say only this
	if params.RootURI != nil && !params.RootURI.IsZero() {
		return []uri.URI{clone(*params.RootURI)} //lint:ignore SA1019 see above
	}
	//lint:ignore SA1019 and the oldest this
	if p, ok := params.RootPath.Get(); ok && filepath.IsAbs(p) {
		return []uri.URI{uri.File(strings.Clone(p))}
	}
	return nil
}

// folderRoot makes the root of a workspace folder, not yet scanned.
func folderRoot(u uri.URI) (*root, bool) {
	if !u.IsFile() {
		return nil, false
	}
	given := filepath.Clean(u.FsPath())
	return &root{kind: folder, path: realPath(given), given: given}, true
}

// withFolders gives the snapshot with these workspace folders. A folder inside
// of another one is part of it. Open documents move to the root that they now
// belong to.
func (s *snapshot) withFolders(wanted []*root) *snapshot {
	next := s.clone()
	old := next.roots
	next.roots = nil
	for _, r := range wanted {
		inner := slices.ContainsFunc(wanted, func(o *root) bool {
			_, in := within(o.path, r.path)
			return in && o.path != r.path
		})
		if inner {
			continue
		}
		if i := slices.IndexFunc(old, func(o *root) bool { return o.kind == folder && o.path == r.path }); i >= 0 {
			r = old[i]
		}
		next.withRoot(r)
	}
	for _, key := range sortedKeys(next.buffers) {
		if _, _, ok := next.rootFor(key); !ok {
			next.settle(key)
		} else if r, dir, _ := next.rootFor(key); r.dirs[dir] == nil {
			next.settle(key)
		}
	}
	return next
}

func sortedKeys(m map[string]*buffer) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// folders lists the workspace folders of the snapshot.
func (s *snapshot) folders() []*root {
	var out []*root
	for _, r := range s.roots {
		if r.kind == folder {
			out = append(out, r)
		}
	}
	return out
}

// DidChangeWorkspaceFolders adds and removes folders.
func (s *server) DidChangeWorkspaceFolders(_ context.Context, params *protocol.DidChangeWorkspaceFoldersParams) error {
	for _, f := range params.Event.Removed {
		s.given = slices.DeleteFunc(s.given, func(u uri.URI) bool { return u == f.URI })
	}
	for _, f := range params.Event.Added {
		if !slices.Contains(s.given, f.URI) {
			s.given = append(s.given, clone(f.URI))
		}
	}
	s.setFolders(s.given)
	return nil
}

func (s *server) setFolders(given []uri.URI) {
	var wanted []*root
	for _, u := range given {
		if r, ok := folderRoot(u); ok {
			wanted = append(wanted, r)
		} else {
			s.log(protocol.MessageTypeWarning, "the folder %s is not on disk; plans are only looked for in file folders", u)
		}
	}
	s.change(func(snap *snapshot) *snapshot { return snap.withFolders(wanted) })
	for _, r := range s.current.Load().folders() {
		if !r.scanned {
			go s.scan(r)
		}
	}
}

// DidCreateFiles, DidRenameFiles and DidDeleteFiles say what the user did in
// the editor's tree. A file is read again by itself, a folder by a new scan.
func (s *server) DidCreateFiles(_ context.Context, params *protocol.CreateFilesParams) error {
	var us []string
	for _, f := range params.Files {
		us = append(us, f.URI)
	}
	s.moved(us)
	return nil
}

// DidRenameFiles: see DidCreateFiles.
func (s *server) DidRenameFiles(_ context.Context, params *protocol.RenameFilesParams) error {
	var us []string
	for _, f := range params.Files {
		us = append(us, f.OldURI, f.NewURI)
	}
	s.moved(us)
	return nil
}

// DidDeleteFiles: see DidCreateFiles.
func (s *server) DidDeleteFiles(_ context.Context, params *protocol.DeleteFilesParams) error {
	var us []string
	for _, f := range params.Files {
		us = append(us, f.URI)
	}
	s.moved(us)
	return nil
}

func (s *server) moved(written []string) {
	var files []string
	rescan := map[string]bool{}
	for _, w := range written {
		u, err := uri.Parse(w)
		if err != nil || !u.IsFile() {
			continue
		}
		key := keyOf(u)
		if isPlanFile(key) {
			files = append(files, key)
			continue
		}
		for _, r := range s.current.Load().folders() {
			if _, ok := within(r.path, key); ok {
				rescan[r.path] = true
			}
		}
	}
	s.reread(files)
	for _, r := range s.current.Load().folders() {
		if rescan[r.path] {
			go s.scan(r)
		}
	}
}

func clone(u uri.URI) uri.URI { return uri.URI(strings.Clone(string(u))) }
