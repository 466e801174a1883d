//go:build unix

package main

import (
	"io"
	"os"
	"strings"
	"syscall"
	"testing"
)

var sockets []*os.File

// What is read is what was written, a pipe is waited for by the poller, and what it may not be set for stays as it is.
func TestPolled(t *testing.T) {
	if in := strings.NewReader("x"); polled(in) != in {
		t.Error("what is no file is another one")
	}
	plain, err := os.Open(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	defer plain.Close()
	if polled(plain) != plain {
		t.Error("a plain file is another one")
	}
	for _, both := range []bool{false, true} {
		pair, err := syscall.Socketpair(syscall.AF_UNIX, syscall.SOCK_STREAM, 0)
		if err != nil {
			t.Fatal(err)
		}
		here, there := os.NewFile(uintptr(pair[0]), "here"), os.NewFile(uintptr(pair[1]), "there")
		if both {
			was := os.Stdout
			os.Stdout = here
			if polled(here) != here {
				t.Error("a socket that is written to as well is read by the poller")
			}
			os.Stdout = was
			here.Close()
			there.Close()
			continue
		}
		in := polled(here)
		if in == here {
			t.Error("a socket is not read by the poller")
		}
		if _, err := there.WriteString("a message"); err != nil {
			t.Fatal(err)
		}
		there.Close()
		sockets = append(sockets, in.(*os.File))
		if got, err := io.ReadAll(in); string(got) != "a message" || err != nil {
			t.Errorf("read %q, %v", got, err)
		}
		sockets = append(sockets, here) // as standard input does, it stays: two files have one descriptor
	}
}
