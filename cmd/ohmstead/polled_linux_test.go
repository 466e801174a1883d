package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestPolled(t *testing.T) {
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	file := func(fd int, err error) *os.File {
		t.Helper()
		check(err)
		return os.NewFile(uintptr(fd), "input")
	}
	waits := func(f *os.File) bool { // whether who reads it stays in the system call
		t.Helper()
		other := file(syscall.Dup(int(f.Fd())))
		defer func() { check(other.Close()) }()
		return errors.Is(other.SetReadDeadline(time.Time{}), os.ErrNoDeadline)
	}
	type both struct{ in, from *os.File }
	pipe := func() both {
		var fds [2]int
		check(syscall.Pipe(fds[:]))
		return both{file(fds[0], nil), file(fds[1], nil)}
	}
	socket := func() both {
		fds, err := syscall.Socketpair(syscall.AF_UNIX, syscall.SOCK_STREAM, 0)
		check(err)
		return both{file(fds[0], nil), file(fds[1], nil)}
	}
	for name, open := range map[string]func() both{"a pipe": pipe, "a socket": socket} {
		t.Run(name, func(t *testing.T) {
			b := open()
			out, done := polled(b.in, io.Discard)
			if out == io.Reader(b.in) || waits(b.in) {
				t.Error("is not polled")
			}
			_, err := b.from.WriteString("a message")
			check(err)
			check(b.from.Close())
			if got, err := io.ReadAll(out); string(got) != "a message" || err != nil {
				t.Errorf("reads %q, %v", got, err)
			}
			if done(); !waits(b.in) {
				t.Error("who reads on finds it polled")
			}
		})
	}
	left := func(t *testing.T, in io.Reader, written ...io.Writer) {
		t.Helper()
		out, done := polled(in, written...)
		if done(); out != in {
			t.Error("is not left as it is")
		}
	}
	t.Run("polled already", func(t *testing.T) {
		b := pipe()
		check(syscall.SetNonblock(int(b.in.Fd()), true))
		again := file(syscall.Dup(int(b.in.Fd())))
		left(t, again)
		if waits(again) {
			t.Error("is polled no longer")
		}
	})
	t.Run("one socket for both ways", func(t *testing.T) {
		b := socket()
		if left(t, b.in, io.Discard, file(syscall.Dup(int(b.in.Fd())))); !waits(b.in) {
			t.Error("who writes does not wait")
		}
	})
	t.Run("a file", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "input")
		check(os.WriteFile(path, []byte("a message"), 0o600))
		f, err := os.Open(path)
		check(err)
		defer f.Close()
		left(t, f)
	})
	t.Run("no file", func(t *testing.T) { left(t, strings.NewReader("a message")) })
}
