package atomicfile

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"sync"
	"syscall"
)

// partOf is the name of a part of a file that this process writes, its i-th try: it tells the process and where that runs.
func partOf(base string, i int) string {
	return fmt.Sprintf(".%s.%s-%d-%d.part", base, machine(), os.Getpid(), i)
}

// mostTries is how many files of one target a process may write at once; partForm knows two digits.
const mostTries = 100

// IsPart says whether a name is that of a part, of whatever process.
func IsPart(base string) bool { return partForm.MatchString(base) }

var partForm = regexp.MustCompile(`^\.(.+)\.([0-9a-f]{8})-([1-9][0-9]{0,9})-(0|[1-9][0-9]?)\.part$`)

// machine tells where the numbers of processes mean the same: one machine, and of its containers one.
var machine = sync.OnceValue(func() string {
	host, _ := os.Hostname()
	space, _ := os.Readlink("/proc/self/ns/pid") // elsewhere than on Linux there is none, and one space of numbers
	return fmt.Sprintf("%x", sha256.Sum256([]byte(host+"\x00"+space)))[:8]
})

// Sweep removes from a folder the parts of files that a killed program left there: of targets that ours names, and of
// processes of this machine that are gone. What others are writing stays, and so does whatever it cannot be sure of.
func Sweep(dir string, ours func(base string) bool) {
	entries, err := os.ReadDir(orHere(dir))
	if err != nil {
		return
	}
	for _, e := range entries {
		m := partForm.FindStringSubmatch(e.Name())
		if m == nil || !e.Type().IsRegular() || m[2] != machine() || !ours(m[1]) {
			continue
		}
		if pid, err := strconv.Atoi(m[3]); err == nil && pid != os.Getpid() && gone(pid) {
			_ = os.Remove(filepath.Join(dir, e.Name())) // the next run tries again
		}
	}
}

// gone says that no process has this number.
func gone(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return runtime.GOOS == "windows" && !errors.Is(err, fs.ErrPermission)
	}
	defer p.Release()
	return runtime.GOOS != "windows" && errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}
