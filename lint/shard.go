package lint

import (
	"fmt"
	"hash/fnv"
	"regexp"
	"strconv"
)

// Shard is one of several parts of a repository, for machines that each judge
// one. Which part a household falls into depends on its path alone, so another
// family that comes or goes moves nobody.
type Shard struct{ n, of int }

// Whole reports whether the part is all there is.
func (p Shard) Whole() bool { return p.of <= 1 }

// maxParts is our own bound, far above any row of machines.
const maxParts = 10_000

var partForm = regexp.MustCompile(`^([0-9]{1,5})/([0-9]{1,5})$`)

// ParseShard reads the form 3/8: the third of eight parts.
func ParseShard(s string) (Shard, error) {
	m := partForm.FindStringSubmatch(s)
	if m == nil {
		return Shard{}, fmt.Errorf("%q is not a part; write which of how many, such as 3/8", s)
	}
	n, _ := strconv.Atoi(m[1])
	of, _ := strconv.Atoi(m[2])
	if n < 1 || n > of || of > maxParts {
		return Shard{}, fmt.Errorf("%q is not a part; there are 1/%d to %[2]d/%[2]d, and at most %d parts", s, max(1, min(of, maxParts)), maxParts)
	}
	return Shard{n, of}, nil
}

// String gives the form 3/8, or "" for all.
func (p Shard) String() string {
	if p.of == 0 {
		return ""
	}
	return fmt.Sprintf("%d/%d", p.n, p.of)
}

// has reports whether the household at a path falls into the part.
func (p Shard) has(path string) bool {
	if p.of == 0 {
		return true
	}
	h := fnv.New64a()
	_, _ = h.Write([]byte(path))
	return int(h.Sum64()%uint64(p.of)) == p.n-1
}
