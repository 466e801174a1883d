package server

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/schema/plans"
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

// rootsOf makes the roots of some workspace folders, not yet scanned: one that
// holds them all or, where they are on several drives, one each. A folder
// inside of another one is part of it.
func rootsOf(folders []place) []*root {
	folders = slices.DeleteFunc(slices.Clone(folders), func(f place) bool {
		return slices.ContainsFunc(folders, func(o place) bool { return o.path != f.path && plans.Inside(o.path, f.path) })
	})
	var dirs []string
	for _, f := range folders {
		dirs = append(dirs, f.path)
	}
	if len(folders) == 0 {
		return nil
	}
	path, err := plans.Root(dirs, isRepository)
	if err != nil {
		var out []*root
		for _, f := range folders {
			out = append(out, rootsOf([]place{f})...)
		}
		return out
	}
	r := newRoot(rootID{workspace, path})
	r.folders, r.repository = folders, isRepository(path)
	return []*root{r}
}

// withFolders gives the snapshot with the roots of its workspace folders. Open
// documents move to the root that they now belong to.
func (s *snapshot) withFolders(wanted []*root, d *disk) *snapshot {
	next := s.clone()
	next.dropRoots(func(r *root) bool { return r.kind != single })
	for _, r := range wanted {
		if old, ok := s.root(r.rootID); ok && slices.Equal(old.folders, r.folders) {
			next.withRoot(old, nil)
		} else {
			next.withRoot(r, nil)
		}
	}
	for _, key := range sorted(next.buffers) {
		if isPlanFile(key) {
			next.shelve(key, d)
		}
	}
	return next
}

// workspaces lists the roots of the workspace folders.
func (s *snapshot) workspaces() []*root {
	return slices.DeleteFunc(slices.Clone(s.roots), func(r *root) bool { return r.kind != workspace })
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
	var folders []place
	for _, u := range given {
		if !u.IsFile() {
			s.log(protocol.MessageTypeWarning, "the folder %s is not on disk; plans are only looked for in file folders", u)
			continue
		}
		path := filepath.Clean(u.FsPath())
		folders = append(folders, place{realPath(path), path})
	}
	wanted := rootsOf(folders)
	s.change(func(snap *snapshot, d *disk) *snapshot { return snap.withFolders(wanted, d) })
	for _, r := range s.current.Load().workspaces() {
		if !r.scanned {
			s.beside("looking for plans", func() { s.scan(r) })
		}
	}
}

// DidCreateFiles, DidRenameFiles and DidDeleteFiles say what the user did in
// the editor's tree.
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
	var keys []string
	for _, w := range written {
		if u, err := uri.Parse(w); err == nil && u.IsFile() {
			keys = append(keys, keyOf(u))
		}
	}
	s.beside("reading what moved", func() { s.reread(keys, keys) })
}

// reread reads plan files that changed, and looks again at directories that
// came or went. Everything that changed may be among the directories; what is
// neither there nor known is nothing to look at.
func (s *server) reread(files, directories []string) {
	dirs := map[string]bool{}
	for _, k := range files {
		if isPlanFile(k) {
			dirs[filepath.Dir(k)] = true
		}
	}
	if len(dirs) > 0 {
		s.changeReading(newDisk(files...), func(snap *snapshot, d *disk) *snapshot {
			next := snap.clone()
			for _, real := range sorted(dirs) {
				next.refresh(real, d)
			}
			return next
		})
	}
	for _, r := range s.current.Load().workspaces() {
		var tops []string
		for _, k := range directories {
			if dir, ok := within(r.path, k); ok && !isPlanFile(k) && r.searched(dir) && (r.knows(dir) || isDirectory(k)) {
				tops = append(tops, dir)
			}
		}
		if len(tops) > 0 {
			s.search(s.life, r, tops, &progress{})
		}
	}
	s.refreshPulled()
}

// ignores reports whether a path as the client writes it lies in a directory
// in which nothing is looked for. It asks no disk: a package manager or git may
// make and remove thousands of files there.
func (s *snapshot) ignores(path string) bool {
	for _, r := range s.workspaces() {
		for _, f := range r.folders {
			if rel, ok := within(f.given, path); ok && !slices.ContainsFunc(strings.Split(rel, "/"), plans.Skipped) {
				return false
			}
		}
	}
	return true
}

// knows reports whether there are plan files in a directory or below it.
func (r *root) knows(dir string) bool {
	known := r.dir(dir) != nil
	r.dirs.Root().WalkPrefix([]byte(dir+"/"), func([]byte, *directory) bool { known = true; return true })
	return known
}

func clone(u uri.URI) uri.URI { return uri.URI(strings.Clone(string(u))) }
