package circuit

// components numbers the strongly connected components of a directed graph (R. Tarjan, "Depth-first
// search and linear graph algorithms", SIAM Journal on Computing 1, 1972; from memory).
func components(next [][]int32) (of []int32) {
	of = make([]int32, len(next))
	seen := make([]int32, len(next)) // 1 and up in the order of the search
	var stack []int32
	count, found := int32(0), int32(0)
	var search func(v int32) int32
	search = func(v int32) int32 {
		count++
		seen[v] = count
		low := count
		stack = append(stack, v)
		for _, w := range next[v] {
			switch {
			case seen[w] == 0:
				low = min(low, search(w))
			case of[w] == 0:
				low = min(low, seen[w])
			}
		}
		if low == seen[v] {
			found++
			for {
				w := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				of[w] = found
				if w == v {
					break
				}
			}
		}
		return low
	}
	for v := range next {
		if seen[v] == 0 {
			search(int32(v))
		}
	}
	return of
}
