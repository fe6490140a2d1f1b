#include "closed.h"

#include <fcntl.h>
#include <unistd.h>

int stdout_was_closed;

// This runs before Go's runtime opens /dev/null in place of what is closed, after which nothing tells the two apart.
__attribute__((constructor)) static void look(void) { stdout_was_closed = fcntl(STDOUT_FILENO, F_GETFD) == -1; }
