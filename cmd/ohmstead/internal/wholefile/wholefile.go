// Package wholefile writes files so that they are there whole or not at all.
package wholefile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Write replaces a file by way of a temporary file beside it. A link stays a
// link: what it leads to is replaced. The file keeps its permissions; a new one
// gets 0644.
func Write(path string, data []byte) (err error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	mode := os.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		if !info.Mode().IsRegular() {
			return fmt.Errorf("%s is not a regular file", path)
		}
		mode = info.Mode().Perm()
	}
	clean(path)
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+temporary+"*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close() // it may be closed; the first error is the one to tell
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if err = f.Chmod(mode); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// temporary marks the file beside another that is being written.
const temporary = ".ohmstead-"

// abandoned is how old such a file is when its writer has ended without it.
const abandoned = time.Minute

// clean removes what writers of the same file left behind that were killed.
func clean(path string) {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return // the write itself tells
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), "."+filepath.Base(path)+temporary) {
			continue
		}
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > abandoned {
			_ = os.Remove(filepath.Join(filepath.Dir(path), e.Name())) // it is tried again next time
		}
	}
}

// Create writes a file that must not be there yet.
func Create(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		f.Close()
		os.Remove(path)
		return err
	}
	return f.Close()
}
