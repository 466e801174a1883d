package report

import "strings"

// around is how many lines that stay are shown around those that change.
const around = 2

// changes shows how one text becomes another, line by line: lines that go with
// "-", lines that come with "+", and some of what stays around them. It is
// meant for short texts: its cost grows with the product of their lines.
func changes(old, new string) string {
	a, b := lines(old), lines(new)
	// common[i][j] is how many lines a[i:] and b[j:] share in order.
	common := make([][]int, len(a)+1)
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	var all []string
	for i, j := 0, 0; i < len(a) || j < len(b); {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			all = append(all, "  "+a[i])
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && common[i+1][j] >= common[i][j+1]:
			all = append(all, "- "+a[i])
			i++
		default:
			all = append(all, "+ "+b[j])
			j++
		}
	}
	var out strings.Builder
	left := false
	for i, l := range all {
		if near(all, i) {
			out.WriteString(strings.TrimRight(l, " ") + "\n")
			left = false
		} else if !left {
			out.WriteString("  …\n")
			left = true
		}
	}
	return out.String()
}

// near reports whether a line changes or stands close to one that does.
func near(all []string, i int) bool {
	for _, l := range all[max(i-around, 0):min(i+around+1, len(all))] {
		if l[0] != ' ' {
			return true
		}
	}
	return false
}

func lines(s string) []string { return strings.Split(strings.TrimRight(s, "\n"), "\n") }
