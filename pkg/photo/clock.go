package photo

import (
	"time"

	"golang.org/x/sys/unix"
)

// threadClock counts the processor's time that one thread of the program uses. Unlike the time of day it does not run
// while other work has the processor, so that the same photo is read on a busy machine that is read on an idle one.
type threadClock int32

// ownClock is that of the calling thread; the goroutine must be locked to it. Any thread may read it then.
func ownClock() threadClock {
	// As pthread_getcpuclockid makes it (Linux, include/linux/posix-timers.h): the thread, inverted, above three bits
	// that say: of one thread, counted by the scheduler.
	return threadClock(^unix.Gettid()<<3 | 4 | 2)
}

// used is what the thread has used since it began, 0 when it has ended.
func (c threadClock) used() time.Duration {
	var t unix.Timespec
	if err := unix.ClockGettime(int32(c), &t); err != nil {
		return 0
	}
	return time.Duration(t.Nano())
}
