package main

import "testing"

func TestRoom(t *testing.T) {
	for _, c := range []struct {
		total, live uint64 // MB
		want        int
	}{
		{52, 0, 1300}, // 52 MB of the least heap, 4 MB at 100 %
		{52, 4, 1200},
		{52, 26, 100},
		{52, 40, 50},
		{52, 52, 50},
		{52, 500, 50}, // what is in use is more than all that it is to grow to
	} {
		if got := room(c.total<<20, c.live<<20); got != c.want {
			t.Errorf("%d MB in use may grow by %d %% to %d MB, want %d %%", c.live, got, c.total, c.want)
		}
	}
}
