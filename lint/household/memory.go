package household

import (
	"context"
	"io/fs"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/wire"
)

// Memory is what is known of a household from another day, when its files and the settings were the same: as what it was read, and what
// rules said of it. It serves one household once. Nothing comes of it that would not come of the files.
type Memory struct {
	kit []byte
	judged
	// read says that the household was read from its files, asked that rules have judged it, told that there is something to be kept of
	// that; located is how many places were known.
	read, asked, told bool
	located           int
	loaded            *load.Loaded
}

// judged is what a judging has found out: where spots are written, and what the rules said.
type judged struct {
	Places []load.Placed
	Said   string
}

// Remember takes what Kept gave on another day; of nothing comes an empty memory, to be filled.
func Remember(kit, before []byte) *Memory {
	m := &Memory{kit: kit}
	if wire.Read(before, &m.judged) != nil {
		m.judged = judged{}
	}
	m.located = len(m.Places)
	return m
}

// Kept is what there is to be kept for another day: the household as it was read, and what a judging has found out. Either is nil where
// what was kept before serves as well.
func (m *Memory) Kept() (kit, before []byte) {
	if m.loaded == nil || m.kit == nil {
		return nil, nil
	}
	if m.read {
		kit = m.kit
	}
	places := m.loaded.Places()
	if m.read || m.told || len(places) != m.located {
		m.Places = places
		before = wire.Append(nil, &m.judged)
	}
	return kit, before
}

// Used says that the household came out of the memory.
func (m *Memory) Used() bool { return m.loaded != nil && !m.read }

// load gives the household as it was kept, or else as its files have it.
func (m *Memory) load(tree fs.FS, dir string, o load.Options) *load.Loaded {
	if m == nil || m.loaded != nil {
		return load.Household(tree, dir, o)
	}
	again := func() *load.Loaded { return load.Household(tree, dir, o) }
	if len(m.kit) > 0 {
		if l, err := load.Kept(m.kit, m.Places, again); err == nil {
			m.loaded = l
			return l
		}
	}
	m.loaded, m.read, m.judged = again(), true, judged{}
	m.kit = m.loaded.Keep()
	return m.loaded
}

// judge asks the rules about a household: those that have to be asked again, where the memory knows what they said before.
func (m *Memory) judge(ctx context.Context, rulebook *judge.Rulebook, least finding.Level, f *facts.Facts, known func(string) bool) ([]judge.Verdict, []judge.Fault) {
	if m == nil || m.asked { // what is judged later is a what-if
		return rulebook.JudgeFrom(ctx, least, f, known)
	}
	vs, faults, now := rulebook.JudgeAgain(ctx, least, f, known, []byte(m.Said))
	if m.asked = true; now != nil {
		m.told, m.Said = true, string(now)
	}
	return vs, faults
}
