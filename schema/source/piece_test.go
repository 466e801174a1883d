package source

import (
	"sync"
	"sync/atomic"
	"testing"
)

func TestMemo(t *testing.T) {
	p := Parse(NewText("p.hcl", []byte("a {\n}\n"))).Pieces[0]
	type key struct{ n int }
	var made atomic.Int64
	var wait sync.WaitGroup
	for i := range 40 {
		wait.Go(func() {
			k := key{i % 2}
			got := p.Memo(k, func(p *Piece) any {
				made.Add(1)
				return p.Memo("inner", func(*Piece) any { return 7 }).(int) + k.n
			})
			if got != 7+k.n {
				t.Errorf("got %v, want %d", got, 7+k.n)
			}
			p.Body()
			p.Tokens()
		})
	}
	wait.Wait()
	if made.Load() != 2 {
		t.Errorf("two values were made %d times", made.Load())
	}
}

func TestBroken(t *testing.T) {
	p := Parse(NewText("p.hcl", []byte("a {\n  x = [1\n  y = 2\n}\n"))).Pieces[0]
	tests := []struct {
		name       string
		start, end int
		want       bool
	}{
		{"header", 0, 3, false},
		{"broken line", 6, 12, true},
		{"within the broken line", 8, 8, true},
		{"up to the broken line", 0, 4, false},
		{"around the broken line", 0, 20, true},
		{"next line", 13, 20, false},
	}
	for _, test := range tests {
		if got := p.Broken(test.start, test.end); got != test.want {
			t.Errorf("%s: got %v", test.name, got)
		}
	}
}
