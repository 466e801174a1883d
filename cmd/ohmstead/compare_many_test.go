package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// manyPlans makes a repository with n plans, two stock directories, and on top
// of it a commit that changes two plans and, through stock, a third. Its working
// tree is empty: nothing is checked out.
func manyPlans(t testing.TB, n int) repository {
	t.Helper()
	r := newRepository(t, "")
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join(comparisons, "base", name))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	var stream strings.Builder
	commit := func(mark int, message string, files map[string]string) {
		fmt.Fprintf(&stream, "commit refs/heads/main\nmark :%d\ncommitter A <a@example.org> 1777636800 +0000\ndata %d\n%s\n", mark, len(message), message)
		if mark > 1 {
			fmt.Fprintf(&stream, "from :%d\n", mark-1)
		}
		for _, name := range slices.Sorted(maps.Keys(files)) {
			fmt.Fprintf(&stream, "M 100644 inline %s\ndata %d\n%s\n", name, len(files[name]), files[name])
		}
	}
	base := map[string]string{parts: read(parts), "attic/parts.ohm.hcl": read(parts)}
	for i := range n {
		p := strings.Replace(read(porch), `plan "porch"`, fmt.Sprintf("plan \"porch-%d\"", i), 1)
		if i == n/2 {
			p = strings.Replace(p, `stock = ["../../workshop"]`, "stock = [\n    # kept apart\n    \"../../attic\",\n  ]", 1)
		}
		base[fmt.Sprintf("plans/p%04d/plan.ohm.hcl", i)] = p
	}
	commit(1, "Base", base)
	change := map[string]string{"plans/p0002/README.md": "Not a plan file.\n"}
	for name, e := range map[string][2]string{
		"plans/p0001/plan.ohm.hcl":                   {`"80 cm"`, `"3 m"`},
		fmt.Sprintf("plans/p%04d/plan.ohm.hcl", n-1): {`"8 A"`, `"5 A"`},
		"attic/parts.ohm.hcl":                        {`"16 AWG"`, `"20 AWG"`},
	} {
		change[name] = strings.Replace(base[name], e[0], e[1], 1)
	}
	commit(2, "Change", change)
	load := exec.Command("git", "fast-import", "--quiet")
	load.Dir, load.Stdin = r.dir, strings.NewReader(stream.String())
	if out, err := load.CombinedOutput(); err != nil {
		t.Fatalf("git fast-import: %v\n%s", err, out)
	}
	return r
}

// Of a thousand plans only those are worked out of which a file or a file of
// their stock changed; the working tree is neither read nor written.
func TestCompareSolvesOnlyWhatChanged(t *testing.T) {
	const n = 1000
	r := manyPlans(t, n)
	t.Chdir(r.dir)
	out, errs, code := ohmstead("compare", "--rev", "HEAD~1..HEAD", "--format", "json", "--fail-on", "never")
	if code != 0 {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	var got struct {
		Total, Solved int
		Plans         []struct{ Dir string }
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	slices.SortFunc(got.Plans, func(a, b struct{ Dir string }) int { return strings.Compare(a.Dir, b.Dir) }) // they come by gravity
	want := []struct{ Dir string }{{"plans/p0001"}, {fmt.Sprintf("plans/p%04d", n/2)}, {fmt.Sprintf("plans/p%04d", n-1)}}
	if fmt.Sprint(got.Plans) != fmt.Sprint(want) {
		t.Errorf("changed: %v, want %v", got.Plans, want)
	}
	if got.Solved != 6 || got.Total != n { // three plans, before and after
		t.Errorf("%d worked out of %d plans, want 6 of %d", got.Solved, got.Total, n)
	}
	if left, err := os.ReadDir(r.dir); err != nil || len(left) != 1 {
		t.Errorf("the working tree holds %v now: %v", left, err)
	}
}

func BenchmarkCompareThousandPlans(b *testing.B) {
	r := manyPlans(b, 1000)
	b.Chdir(r.dir)
	for b.Loop() {
		if out, errs, code := ohmstead("compare", "--rev", "HEAD~1..HEAD", "--format", "json", "--fail-on", "never"); code != 0 || !strings.Contains(out, `"solved": 6`) {
			b.Fatalf("exit code %d: %s", code, errs)
		}
	}
}

// One line of stock under a hundred plans: each is judged before and after.
func BenchmarkCompareStock(b *testing.B) {
	r := manyPlans(b, 100)
	b.Chdir(r.dir)
	r.git("checkout", "-q", "-f", "main")
	r.edit(edit{file: parts, old: `"16 AWG"`, new: `"20 AWG"`})
	r.commit("Stock")
	for b.Loop() {
		if out, errs, code := ohmstead("compare", "--rev", "HEAD~1..HEAD", "--fail-on", "never"); code != 0 || !strings.Contains(out, "wire.feed (stock): gauge 16 AWG → 20 AWG") {
			b.Fatalf("exit code %d: %s", code, errs)
		}
	}
}
