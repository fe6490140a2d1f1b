// A neural net with one input of fixed shape and several named outputs. Functions that return char* return NULL when all
// went well, else a message to be released with free().
#pragma once

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct Network Network;

// Reads a net that takes input of 1 x channels x height x width. The caller closes *made.
char *net_read(const void *onnx, size_t size, int channels, int height, int width, Network **made);
// Adds a named output and tells how many values it will have.
char *net_add_output(Network *net, const char *name, size_t *length);
// Runs the net; input is a matrix (cv::Mat) with as many float values as the net takes.
char *net_forward(Network *net, const void *input);
// Copies output i of the last run, which must have so many values.
char *net_output(const Network *net, size_t i, float *copy, size_t length);
void net_close(Network *net);

#ifdef __cplusplus
}
#endif
