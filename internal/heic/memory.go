package heic

import (
	"sync/atomic"
	"syscall"
	"time"

	"github.com/tetratelabs/wazero/experimental"
)

// memory is that of one run. It is mapped whole, so that it never moves and only what is used takes room, and lies
// outside Go's heap.
type memory struct {
	mapped []byte
	used   atomic.Uint64
}

var _ experimental.LinearMemory = (*memory)(nil)

// newMemory maps as much as a run may use.
func newMemory() (*memory, error) {
	mapped, err := syscall.Mmap(
		-1,
		0,
		mostBytes,
		syscall.PROT_READ|syscall.PROT_WRITE,
		syscall.MAP_PRIVATE|syscall.MAP_ANON,
	)
	return &memory{mapped: mapped}, err
}

// Reallocate returns the first size bytes, nil when there are not so many.
func (m *memory) Reallocate(size uint64) []byte {
	if size > uint64(len(m.mapped)) {
		return nil
	}
	m.used.Store(size)
	return m.mapped[:size]
}

// Free unmaps the memory.
func (m *memory) Free() { _ = syscall.Munmap(m.mapped) }

// spoilInterval is how often a run that is to end finds its memory spoilt.
const spoilInterval = 50 * time.Millisecond

// spoilAfter ends a run that lasts longer than until done is closed: it fills the memory with ones, so that the next
// pointer leads out of it and the program stops with an error. (The machine can be told to look for an end of its
// context itself, and is six times as slow then.) It returns when the run has ended.
func (m *memory) spoilAfter(done, ended <-chan struct{}) {
	select {
	case <-ended:
		return
	case <-done:
	}
	for {
		used := m.mapped[:m.used.Load()]
		for i := range used {
			used[i] = 0xff
		}
		select {
		case <-ended:
			return
		case <-time.After(spoilInterval):
		}
	}
}
