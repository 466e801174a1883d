package gitfs

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"sync"

	"ohmstead/schema/source"
)

// batch is a running "git cat-file --batch": one program reads all files.
type batch struct {
	mu  sync.Mutex
	cmd *exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

// blob is a file's content. Of one that is larger than any plan file may be
// only the size is kept.
type blob struct {
	size  int64
	bytes []byte
}

func startBatch(r *Repo) (*batch, error) {
	cmd := exec.CommandContext(r.ctx, "git", "cat-file", "--batch")
	cmd.Dir = r.Root
	cmd.Env = append(cmd.Environ(), "LC_ALL=C")
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	return &batch{cmd: cmd, in: in, out: bufio.NewReader(out)}, nil
}

// read fetches an object. The answer is "OBJECT blob SIZE", its bytes and a
// line end.
func (b *batch) read(object string) (blob, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if _, err := io.WriteString(b.in, object+"\n"); err != nil {
		return blob{}, err
	}
	head, err := b.out.ReadString('\n')
	if err != nil {
		return blob{}, fmt.Errorf("git cat-file ended: %w", err)
	}
	f := strings.Fields(head)
	if len(f) != 3 || f[1] != "blob" {
		return blob{}, errors.New("git cat-file: " + strings.TrimSpace(head))
	}
	size, err := strconv.ParseInt(f[2], 10, 64)
	if err != nil {
		return blob{}, err
	}
	out := blob{size: size}
	if size > source.MaxFile {
		_, err = io.CopyN(io.Discard, b.out, size+1)
		return out, err
	}
	out.bytes = make([]byte, size)
	if _, err := io.ReadFull(b.out, out.bytes); err != nil {
		return blob{}, err
	}
	_, err = b.out.Discard(1)
	return out, err
}

func (b *batch) close() error {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.in.Close() // it ends when nobody asks any more
	return b.cmd.Wait()
}
