#!/bin/sh
# Reviews a change to plans in any CI that can run a shell: judges the plans,
# says what the change does on the wall, and leaves the results in a directory.
#
#   review.sh BASE [HEAD] [PATH...]
#
# BASE and HEAD are git revisions; HEAD is what is checked out, and the default.
# The clone must be deep enough to hold the commit that both have in common.
# Set RESULTS to write to another directory than ohmstead-results.
#
# Exit code: 0 no new errors, 1 new errors, 2 something could not be done.

set -u

base=${1:?usage: review.sh BASE [HEAD] [PATH...]}
shift
head=${1:-HEAD}
[ $# -gt 0 ] && shift
results=${RESULTS:-ohmstead-results}
mkdir -p "$results" || exit 2
status=0 # what cannot be read makes it 2, and the review is written all the same

# All findings, for programs: SARIF for code scanners, JUnit for test panels.
ohmstead check --fail-on never \
	--format "sarif:$results/check.sarif" \
	--format "junit:$results/check.xml" "$@" || status=2

# The findings that are new, for people.
ohmstead check --fail-on never --since "$base" "$@" || status=2

# What the change does, as a review comment and as a page to read or print. The
# exit code says whether it brings new errors.
ohmstead compare --rev "$base...$head" --fail-on new-error \
	--format "markdown:$results/compare.md" \
	--format "html:$results/compare.html" "$@" || {
	code=$?
	[ "$code" -gt "$status" ] && status=$code
}
exit "$status"
