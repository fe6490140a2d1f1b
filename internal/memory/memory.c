#define _GNU_SOURCE
#include <malloc.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>

// The first run of a net touches tens of MB for the first time. In pages of 4 KiB the kernel has to step in ten thousand times,
// which takes about as long as the run itself; in pages of 2 MiB, a few dozen times. So all of OpenCV's matrices are to come
// from one heap that keeps what it once had, and the kernel is asked to back the start of that heap by huge pages. What it
// does not grant costs time and nothing else.
//
// This runs before Go starts its first thread, because threads get heaps of their own as soon as there are two of them.
__attribute__((constructor)) static void use_huge_pages(void) {
    const int never = 1 << 30;
    const size_t huge = 2u << 20, start = 48u << 20;
    mallopt(M_ARENA_MAX, 1);
    mallopt(M_MMAP_THRESHOLD, never);
    mallopt(M_TRIM_THRESHOLD, never);
    void *room = malloc(start);  // moves the end of the heap; nothing is touched
    if (room == NULL) return;
    const uintptr_t first = ((uintptr_t)room + huge - 1) / huge * huge;
    madvise((void *)first, start - huge, MADV_HUGEPAGE);
    free(room);
}
