package gitfs

import (
	"fmt"
	"strings"
)

// MergeBase gives the commit that two revisions have in common: what a review
// of the second one starts from.
func (r *Repo) MergeBase(a, b string) (string, error) {
	from, err := r.Commit(a)
	if err != nil {
		return "", err
	}
	to, err := r.Commit(b)
	if err != nil {
		return "", err
	}
	out, err := run(r.ctx, r.Root, "merge-base", from, to)
	if err != nil {
		return "", fmt.Errorf("%s and %s have no commit in common", a, b)
	}
	return strings.TrimSpace(string(out)), nil
}
