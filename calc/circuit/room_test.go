package circuit

import "testing"

// Rows are zeroes and apart from each other, also those given again and those for which there was no room.
func TestRoom(t *testing.T) {
	r := new(room)
	for range 3 {
		var rows [][]float64
		for n := range 90 {
			row := r.row(n)
			if len(row) != n || cap(row) != n {
				t.Fatalf("%d numbers with room for %d, asked for %d", len(row), cap(row), n)
			}
			for i, x := range row {
				if x != 0 {
					t.Fatalf("a row of %d begins with %g", n, x)
				}
				row[i] = float64(n)
			}
			rows = append(rows, row)
		}
		for n, row := range rows {
			for _, x := range row {
				if x != float64(n) {
					t.Fatalf("the row of %d holds %g of another one", n, x)
				}
			}
		}
		r.clear()
	}
	if n := 89 * 90 / 2; len(r.stretch) < n {
		t.Errorf("room for %d numbers where %d were given", len(r.stretch), n)
	}
	if row := (*room)(nil).row(5); len(row) != 5 {
		t.Errorf("no room gives %d", len(row))
	}
}
