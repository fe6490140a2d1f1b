// Image operations. Matrices are cv::Mat; results are made by the callee. Functions return NULL when all went well, else a
// message to be released with free().
#pragma once

#ifdef __cplusplus
extern "C" {
#endif

char *image_gaussian(const void *plane, double sigma, void *result);
char *image_shrink(const void *picture, int width, int height, void *result);

#ifdef __cplusplus
}
#endif
