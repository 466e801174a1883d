package circuit

import (
	"math/rand/v2"
	"testing"
)

func TestRandomBalance(t *testing.T) {
	most := 0
	for seed := range uint64(400) {
		c := randomCircuit(rand.New(rand.NewPCG(seed, 1)), 150)
		sol, err := Solve(c)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		most = max(most, sol.Iterations)
		checkBalance(t, c, sol)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("at most %d iterations", most)
}
