extern int stdout_was_closed;
